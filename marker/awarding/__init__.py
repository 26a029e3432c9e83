"""Marking points from judged statements, under a convention."""
