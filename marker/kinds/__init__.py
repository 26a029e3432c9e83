"""Kinds of part: how each is set and marked, in one table."""
