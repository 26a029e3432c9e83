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


def _as_much_as(row: Row, n: int) -> Token | None:
    """ "Weighs as much as the boat", "has the same weight as the boat": a comparison of two things, told by its second "as"."""
    first = _first_of_as(row, n)
    return None if first is None else replace(row[n], kind="compare", way="equal", text="as much as")


def _first_of_as(row: Row, n: int) -> int | None:
    """Where the comparison begins that ends with this "as"; None when it is no comparison."""
    if _typed(row, n) != "as" or _after(row, n) not in (*_NAMES, "article", "number", "letters", "pronoun"):
        return None
    for k in range(n - 1, max(-1, n - 6), -1):
        if row[k].kind in ("stop", "comma", "be", "join", "and"):
            return None
        if _typed(row, k) in ("as", "same"):
            degree = _typed(row, k) == "same" or (k + 1 < n and row[k + 1].kind == "way")
            multiplied = k > 0 and row[k - 1].way in ("twice", "half")
            return k if degree and not multiplied else None
    return None


def _degree_of_as(row: Row, n: int) -> Token | None:
    """The words of degree in such a comparison say nothing by themselves."""
    if row[n].kind not in ("way", "condition") or row[n].way not in ("", "up", "down", "steady"):
        return None
    for k in range(n + 1, min(len(row), n + 6)):
        first = _first_of_as(row, k)
        if first is not None and first <= n:
            return replace(row[n], kind="light", way="", senses=(), forms=frozenset())
    return None


def _has_left(row: Row, n: int) -> Token | None:
    """ "Has left the trough": gone from it, not the side."""
    if _typed(row, n) != "left" or not (_before(row, n) == "be" and row[n - 1].typed.lower() in ("has", "have", "had")):
        return None
    return replace(row[n], kind="act", senses=(("pass", 1), ("emit", 1)))


def _goes_out(row: Row, n: int) -> Token | None:
    """ "Goes out of the tank", "the air that went out": it leaves. A lamp that goes out is off."""
    if ("shine", -1) not in row[n].senses or not row[n].text.endswith(" out"):
        return None
    near = [t for t in row[max(0, n - 4) : n] if t.kind in _NAMES]
    through = _after(row, n) == "preposition" or any(t.concept in ("liquid", "gas", "particle", "steam") for t in near)
    return replace(row[n], senses=(("pass", 1), ("emit", 1))) if through else None


_RULES: tuple[Callable[[Row, int], Token | None], ...] = (
    _left_behind, _up_or_down, _average, _on_or_off, _than, _container, _quantity, _as_much_as, _degree_of_as,
    _has_left, _goes_out,
)  # fmt: skip
