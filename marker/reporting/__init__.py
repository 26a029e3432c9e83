"""Workbook, records and feedback from results."""
