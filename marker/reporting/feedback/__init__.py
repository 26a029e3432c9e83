"""Feedback sheets: what each student reads about each line they typed."""

from marker.reporting.feedback.pdf import write_pdf
from marker.reporting.feedback.write import write_feedback

__all__ = ["write_feedback", "write_pdf"]
