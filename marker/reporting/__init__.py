"""Showing and storing marks: the workbook, the records, and the feedback sheets."""

from marker.reporting.decisions import Change, Decision, Decisions, changes, standing
from marker.reporting.feedback import write_feedback
from marker.reporting.paper import MarkedPaper, paper_of_results
from marker.reporting.records import from_record, read_records, write_records
from marker.reporting.workbook import read_decisions, write_workbook

__all__ = [
    "Change",
    "Decision",
    "Decisions",
    "MarkedPaper",
    "changes",
    "from_record",
    "paper_of_results",
    "read_decisions",
    "read_records",
    "standing",
    "write_feedback",
    "write_records",
    "write_workbook",
]
