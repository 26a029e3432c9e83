"""A scheme as a worksheet: one row for each part and point, and back, without loss."""

from marker.scheme.worksheet.read import Sheets, read_worksheet
from marker.scheme.worksheet.write import write_worksheet

__all__ = ["Sheets", "read_worksheet", "write_worksheet"]
