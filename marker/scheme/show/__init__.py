"""A scheme as marking instructions: a page to print, and the same as a workbook."""

from marker.scheme.show.html import scheme_page
from marker.scheme.show.sheet import write_instructions
from marker.scheme.show.view import scheme_view

__all__ = ["scheme_page", "scheme_view", "write_instructions"]
