"""Python's collector of cycles, called for seldom while a class is marked."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

_SELDOM = (100_000, 20, 50)


@contextmanager
def collected_seldom() -> Iterator[None]:
    """Marking makes many small frozen values and hardly a cycle: to look through all of them at every 700th costs 5 to 8 % of its time."""
    usual = gc.get_threshold()
    gc.set_threshold(*_SELDOM)
    try:
        yield
    finally:
        gc.set_threshold(*usual)
