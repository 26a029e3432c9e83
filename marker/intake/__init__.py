"""Responses files into responses."""
