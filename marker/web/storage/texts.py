"""Text as every database can keep it."""

from __future__ import annotations


def storable(text: str) -> str:
    """Without NUL characters and unpaired surrogates, which PostgreSQL refuses."""
    return text.replace("\x00", "").encode("utf-8", errors="replace").decode("utf-8")


def fit(text: str, length: int) -> str:
    """Storable, and no longer than its column."""
    return storable(text)[:length]
