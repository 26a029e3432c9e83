"""What a rule of marking finds of one point."""

from __future__ import annotations

from collections.abc import Callable

from marker.awarding.evidence import Case
from marker.frozen import frozen
from marker.scheme.compiled import Point


@frozen
class Finding:
    """What became of one point. `wrong` is True when a fault lost it rather than something left out; `dependent` when a
    point it needs did; `fault` is the code of the fault, if single."""

    met: bool
    because: str
    lines: tuple[int, ...] = ()
    followed: bool = False
    implied: bool = False
    wrong: bool = False
    dependent: bool = False
    fault: str = ""


Rule = Callable[[Point, Case], Finding]
