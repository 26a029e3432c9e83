"""Verdicts on statements, and the naming of faults."""
