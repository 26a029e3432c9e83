"""Typed lines to statements, each with its readings ranked."""
