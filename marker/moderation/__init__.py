"""Samples, second marks, agreement, adjustment and item analysis."""
