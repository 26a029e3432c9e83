"""Samples, second marks, agreement, adjustment and item analysis.

The public names load when they are first used, since most of them need the statistics libraries of the moderation extra.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from marker.moderation.items import analyse
    from marker.moderation.record import verify
    from marker.moderation.report import make_report
    from marker.moderation.sampling import draw_sample
    from marker.moderation.source import load_marks

__all__ = ["analyse", "draw_sample", "load_marks", "make_report", "verify"]

_PLACES = {"analyse": "items", "draw_sample": "sampling", "load_marks": "source", "make_report": "report", "verify": "record"}


def __getattr__(name: str) -> Any:
    if name not in _PLACES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_PLACES[name]}"), name)
