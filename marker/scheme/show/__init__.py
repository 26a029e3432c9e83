"""A scheme as marking instructions: text for a terminal, a page to print, and the same as a workbook."""

from marker.scheme.show.html import scheme_page
from marker.scheme.show.sheet import write_instructions
from marker.scheme.show.text import scheme_text
from marker.scheme.show.view import scheme_view

__all__ = ["scheme_page", "scheme_text", "scheme_view", "write_instructions"]
