"""Refusals of the pages, beside those of the library."""

from __future__ import annotations

from marker.errors import MarkerError


class StoreError(MarkerError):
    """The store cannot be opened or is not one of ours."""


class ServeError(MarkerError):
    """The pages cannot be served as asked."""
