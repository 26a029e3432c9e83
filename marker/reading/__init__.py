"""Typed lines to statements, each with its readings ranked."""

from marker.reading.lines import read_lines
from marker.reading.plain import Quantity, read_expression, read_quantity, read_relation
from marker.reading.writing import write_mathml, write_plain

__all__ = ["Quantity", "read_expression", "read_lines", "read_quantity", "read_relation", "write_mathml", "write_plain"]
