"""Words whose meaning hangs on their neighbours: "a change of momentum", "the mean speed", "less energy then", "the lamp is off"."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from marker.kinds.written.claims.tokens import Token

_ENDS = frozenset(("stop", "comma", "and", "join", "condition"))
_NAMES = frozenset(("thing", "letters", "word"))

Row = Sequence[Token]


def in_context(row: Row) -> tuple[Token, ...]:
    """The tokens, each as its neighbours make it: the first rule that has something to say decides."""
    return tuple(next((t for rule in _RULES if (t := rule(row, n)) is not None), row[n]) for n in range(len(row)))


def _typed(row: Row, n: int) -> str:
    return row[n].typed.lower()


def _before(row: Row, n: int) -> str:
    return row[n - 1].kind if n else ""


def _after(row: Row, n: int) -> str:
    return row[n + 1].kind if n + 1 < len(row) else "stop"


def _left_behind(row: Row, n: int) -> Token | None:
    """ "Leaving the slower ones behind"."""
    if row[n].text != "leav" or not any(t.typed.lower() == "behind" for t in row[n + 2 : n + 7]):
        return None
    return replace(row[n], kind="thing", senses=(("remaining", 1),))


def _up_or_down(row: Row, n: int) -> Token | None:
    """ "Pressure up": a change, where it stands alone after a name."""
    if _typed(row, n) not in ("up", "down") or row[n].kind == "way" or _before(row, n) not in _NAMES or _after(row, n) not in _ENDS:
        return None
    return replace(row[n], kind="way", way=_typed(row, n), forms=frozenset(("verb",)))


def _average(row: Row, n: int) -> Token | None:
    """ "The mean speed", where "mean" does not part two statements."""
    if _typed(row, n) != "mean" or row[n].kind != "join" or _after(row, n) not in ("thing", "letters") or _before(row, n) == "pronoun":
        return None
    return replace(row[n], kind="light", senses=(("mean", 1),))


def _on_or_off(row: Row, n: int) -> Token | None:
    """ "The lamp is off"."""
    if _typed(row, n) not in ("on", "off") or _before(row, n) != "be" or _after(row, n) not in _ENDS:
        return None
    return replace(row[n], kind="act", senses=(("shine", 1 if _typed(row, n) == "on" else -1),))


def _than(row: Row, n: int) -> Token | None:
    """ "Less energy then the work function": a comparative just before, with no stop or verb between."""
    if _typed(row, n) != "then" or _after(row, n) not in ("article", "thing", "number", "letters"):
        return None
    near = row[max(0, n - 3) : n]
    comparative = any(t.kind == "way" and (t.typed.lower().endswith("er") or t.typed.lower() in ("less", "more")) for t in near)
    if not comparative or any(t.kind not in (*_NAMES, "way") for t in near[-2:]):
        return None
    return replace(row[n], kind="than", text="than")


def _container(row: Row, n: int) -> Token | None:
    """ "A can"."""
    if _typed(row, n) != "can" or _before(row, n) != "article":
        return None
    return replace(row[n], kind="word", senses=((row[n].text, 1),))


def _quantity(row: Row, n: int) -> Token | None:
    """ "Change" as a quantity: "the change of momentum", "a smaller momentum change"."""
    if row[n].kind != "way" or _typed(row, n) not in ("change", "changes"):
        return None
    of = n + 1 < len(row) and row[n + 1].text in ("of", "in")
    named = _before(row, n) in ("thing", "letters") and _typed(row, n) == "change"
    if not of and not (named and _after(row, n) not in ("article", *_NAMES)):
        return None
    return replace(row[n], kind="thing", senses=(("change", 1),), way="", forms=frozenset())


_RULES: tuple[Callable[[Row, int], Token | None], ...] = (
    _left_behind, _up_or_down, _average, _on_or_off, _than, _container, _quantity,
)  # fmt: skip
