"""The workbook a teacher works in: written whole, read back for the teacher's decisions."""

from marker.reporting.workbook.read import read_decisions
from marker.reporting.workbook.write import write_workbook

__all__ = ["read_decisions", "write_workbook"]
