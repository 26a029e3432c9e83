"""Marks typed answers and calculations in final-year school physics."""
