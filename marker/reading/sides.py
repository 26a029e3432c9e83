"""One side of a statement to its readings: lattice, left-out brackets, grammar, in rising cost.

Sides come again and again ("v", "F_net", "30.0 m/s"), so what was read is kept by the side's own text; its places are put in
terms of the typed line afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from heapq import heappop, heappush
from typing import NamedTuple

from marker.expression import Call, Expr, Negative, Number, PlusMinus, Power, Product, Quotient, Root, Sum, Symbol, UnitFactor
from marker.reading.area import Area
from marker.reading.lattice import Lattice
from marker.reading.model import Assumption
from marker.reading.numbers import BARE_STYLE, ENDS_IN_POWER, LOST_STYLE, PLAIN_STYLE, NumberStyle
from marker.reading.parser import parse
from marker.reading.search import Path, first_path, paths
from marker.reading.structure import by_habit, variants
from marker.reading.symbols import Symbols
from marker.reading.tokens import Edge, Tok

_MOST_READINGS = 8
_MOST_PARSES = 24
_MOST_VARIANTS = 400
_LONGEST = 600
_DEAREST = 5.0
_DEEPEST = 40

Choice = tuple[str, str]


class Setting(NamedTuple):
    """What besides its text decides how a side is read.

    several  the line has more than one quantity with a unit;  celsius  it gives a temperature, so that C is a degree
    """

    symbols: Symbols
    style: NumberStyle
    used: frozenset[str]
    several: bool
    celsius: bool = False


def narrowed(setting: Setting, text: str) -> Setting:
    """The setting with only what can matter to this text, so that equal sides share one reading."""
    used = setting.used and frozenset([x for x in setting.used if x.rstrip("#") in text])
    style = setting.style if "," in text or "·" in text else _of_text(setting.style, text)
    several = setting.several and any(c.isdigit() for c in text)
    celsius = setting.celsius and "C" in text
    if used == setting.used and style is setting.style and several == setting.several and celsius == setting.celsius:
        return setting
    return Setting(setting.symbols, style, used, several, celsius)


def _of_text(style: NumberStyle, text: str) -> NumberStyle:
    """The style of a side without commas and raised dots: only a lost superscript can matter."""
    if style.lost:
        return LOST_STYLE
    return BARE_STYLE if style.bare and ENDS_IN_POWER.search(text) is not None else PLAIN_STYLE


class SideReading(NamedTuple):
    """A tree with its cost, assumptions and choices ("v2" is a power); places are in columns of the side's text."""

    cost: float
    tree: Expr
    notes: tuple[Assumption, ...]
    choices: tuple[Choice, ...] = ()


class _Side:
    """A side taken apart once for all the ways it is read: its lattice, and the first way through it."""

    __slots__ = ("area", "lattice", "path", "repaired")

    def __init__(self, whole: Area) -> None:
        self.area, self.repaired = _balanced(whole)
        self.lattice = Lattice(self.area)
        self.path: Path | None = first_path(self.lattice)


@lru_cache(maxsize=256)
def _side(text: str, setting: Setting) -> _Side | None:
    """The side by itself, its places in columns of its own text; None when it is too long. A statement asks for its sides many times."""
    return _Side(_area(text, setting)) if len(text) <= _LONGEST else None


def _stretch_of_line(
    text: str,
    span: tuple[int, int],
    setting: Setting,
    starts: Sequence[int],
    ends: Sequence[int],
    overrides: Mapping[int, tuple[Edge, ...]],
) -> _Side | None:
    """The side where it stands, its places in typed columns; None when it is too long."""
    return _Side(_stretch(text, span, setting, starts, ends, overrides)) if span[1] - span[0] <= _LONGEST else None


@lru_cache(maxsize=8192)
def plainest(text: str, setting: Setting) -> SideReading | None:
    """The first reading of a side, None when there is none."""
    return _first(_side(text, setting))


def _first(side: _Side | None) -> SideReading | None:
    return None if side is None else _at_first_sight(side) or next(_read(side), None)


# side and setting -> its first reading, and the typed column where it stood; sides of lines typed one character for one
_STOOD: dict[tuple[str, Setting], tuple[SideReading | None, int]] = {}
_MOST_KEPT = 8192


def plainest_at(text: str, setting: Setting, column: int) -> SideReading | None:
    """The first reading of a side that begins at a typed column, in a line without characters that stand for several."""
    kept = _STOOD.get((text, setting))
    if kept is None:
        n = len(text)
        starts, ends = range(column, column + n), range(column + 1, column + n + 1)
        found = _first(_stretch_of_line(text, (0, n), setting, starts, ends, _NOTHING))
        if len(_STOOD) >= _MOST_KEPT:
            _STOOD.clear()
        _STOOD[text, setting] = (found, column)
        return found
    found, stood = kept
    if found is None or stood == column:
        return found
    # its places are columns of the line it stood in: as many columns further on, or back, in this one
    columns = range(column - stood, column + len(text) + 1), range(column - stood + 1, column + len(text) + 2)
    notes = tuple([placed_note(n, *columns, 0) for n in found.notes])
    return SideReading(found.cost, placed(found.tree, *columns, 0), notes, found.choices)


def plainest_with_words(
    text: str, start: int, end: int, setting: Setting, starts: Sequence[int], ends: Sequence[int], overrides: Mapping[int, tuple[Edge, ...]]
) -> SideReading | None:
    """The first reading of a side in which words stand for signs or quantities; places are in typed columns already."""
    return _first(_stretch_of_line(text, (start, end), setting, starts, ends, overrides))


def forget() -> None:
    """Empties what is kept, for measuring."""
    _STOOD.clear()
    for kept in (_side, plainest, all_readings, habitual):
        kept.cache_clear()


def _at_first_sight(side: _Side) -> SideReading | None:
    """The cheapest way through the lattice with its cheapest brackets, when these cost nothing and the grammar takes them."""
    if side.path is None:
        return None
    cost, tokens, notes, choices = side.path
    variant = next(variants(tokens, side.area.symbols.angles))
    tree = parse(variant.tokens) if variant.cost == 0 else None
    return None if tree is None else SideReading(round(cost, 3), tree, notes + variant.notes + side.repaired, choices)


@lru_cache(maxsize=4096)
def all_readings(text: str, setting: Setting) -> tuple[SideReading, ...]:
    side = _side(text, setting)
    if side is None:
        return ()
    if _is_plain(side):
        first = _at_first_sight(side)
        return () if first is None else (first,)
    kept = _STOOD.get((text, setting))
    return _everything(side, kept[0] if kept is not None else None)


def _is_plain(side: _Side) -> bool:
    """Nothing in the side can be taken in two ways: each token is the only one that can stand there, and no bracket is left out."""
    if side.lattice.open or side.path is None:
        return False
    ways = variants(side.path[1], side.area.symbols.angles)
    return next(ways).cost == 0 and next(ways, None) is None


def _everything(side: _Side, known: SideReading | None = None) -> tuple[SideReading, ...]:
    """All readings within the bounds, the one at first sight among them even where the search gave up before it.

    known  the first reading, where it was made before: nothing more is to be done where the search has found it too
    """
    found = list(_read(side))
    if known is not None and any(r.tree == known.tree for r in found):
        return tuple(found)
    first = _at_first_sight(side)
    if first is not None and all(r.tree != first.tree for r in found):
        found.append(first)
        found.sort(key=lambda r: r.cost)
    return tuple(found)


def read_with_words(
    text: str, start: int, end: int, setting: Setting, starts: Sequence[int], ends: Sequence[int], overrides: Mapping[int, tuple[Edge, ...]]
) -> tuple[SideReading, ...]:
    """Readings of a side in which words stand for signs or quantities; places are in typed columns already."""
    side = _stretch_of_line(text, (start, end), setting, starts, ends, overrides)
    return () if side is None else _everything(side)


@lru_cache(maxsize=4096)
def habitual(text: str, setting: Setting, habit: frozenset[str]) -> SideReading | None:
    """The side with one habit throughout; None when it cannot be read so."""
    return _with_habit(_side(text, setting), habit)


def habitual_with_words(
    text: str,
    span: tuple[int, int],
    setting: Setting,
    starts: Sequence[int],
    ends: Sequence[int],
    overrides: Mapping[int, tuple[Edge, ...]],
    habit: frozenset[str],
) -> SideReading | None:
    """The same for a side in which words stand for signs or quantities; places are in typed columns already."""
    return _with_habit(_stretch_of_line(text, span, setting, starts, ends, overrides), habit)


def _with_habit(side: _Side | None, habit: frozenset[str]) -> SideReading | None:
    if side is None:
        return None
    lattice = side.lattice.by_habit(habit)
    path = side.path if lattice is None else first_path(lattice)
    if path is None:
        return None
    cost, tokens, notes, choices = path
    variant = by_habit(tokens, side.area.symbols.angles, habit)
    tree = parse(variant.tokens)
    return None if tree is None else SideReading(round(cost + variant.cost, 3), tree, notes + variant.notes + side.repaired, choices)


_NOTHING: Mapping[int, tuple[Edge, ...]] = {}


def _area(text: str, setting: Setting) -> Area:
    return _stretch(text, (0, len(text)), setting, range(len(text)), range(1, len(text) + 1))


def _stretch(
    text: str,
    span: tuple[int, int],
    setting: Setting,
    starts: Sequence[int],
    ends: Sequence[int],
    overrides: Mapping[int, tuple[Edge, ...]] = _NOTHING,
) -> Area:
    symbols, style, used, several, celsius = setting
    return Area(text, *span, symbols, style, starts, ends, overrides, used, several, celsius=celsius)


def why_unread(text: str) -> str:
    """Why a side has no reading, as a phrase for a teacher."""
    text = text.strip()
    if len(text) > _LONGEST:
        return "too long to read as one expression"
    strange = [c for c in text if not (c.isalnum() or c in " +-×*·/=()^√∛∜|.,°%'_{}±∥⊥∞½¼¾")]
    if strange:
        return f"the character “{strange[0]}” has no meaning here"
    if text and text[-1] in "+-×*·/^(√":
        return f"nothing follows the “{text[-1]}”"
    if text and text[0] in "×*·/^)":
        return f"nothing stands before the “{text[0]}”"
    return "it does not read as an expression"


def _read(side: _Side) -> Iterator[SideReading]:
    found: dict[Expr, float] = {}
    least = 0.0
    for parses, (cost, tokens, notes, choices) in enumerate(_token_lists(side)):
        if parses >= _MOST_PARSES or (found and cost > _DEAREST + least):
            return
        tree = parse(tokens)
        if tree is None or tree in found:
            continue
        least = least if found else cost
        found[tree] = cost
        yield SideReading(round(cost, 3), tree, notes + side.repaired, choices)
        if len(found) >= _MOST_READINGS:
            return


_Tokens = tuple[float, tuple[Tok, ...], tuple[Assumption, ...], tuple[Choice, ...]]


def _token_lists(side: _Side) -> Iterator[_Tokens]:
    """Bracketed token lists in rising cost: ways through the lattice, and ways to bracket each."""
    heap: list[tuple[float, int, _Tokens]] = []
    serial = 0
    for cost, path, notes, choices in paths(side.lattice):
        for variant in variants(path, side.area.symbols.angles):
            serial += 1
            total = cost + variant.cost
            heappush(heap, (total, serial, (total, variant.tokens, notes + variant.notes, choices)))
        while heap and heap[0][0] <= cost:  # every later way costs at least as much
            yield heappop(heap)[2]
        if serial > _MOST_VARIANTS:
            break
    while heap:
        yield heappop(heap)[2]


def _balanced(area: Area) -> tuple[Area, tuple[Assumption, ...]]:
    """A bracket too many or too few is mended at the end or the beginning of the side."""
    text = area.text[area.start : area.end]
    if "(" not in text and ")" not in text:
        return area, ()
    if not area.overrides and _in_balance(text):
        return area, ()
    depth, least, deepest = 0, 0, 0
    at = area.start
    while at < area.end:
        if at in area.overrides:
            at = max(at + 1, area.overrides[at][0].end)
            continue
        c = area.text[at]
        depth += (c == "(") - (c == ")")
        least = min(least, depth)
        deepest = max(deepest, depth)
        at += 1
    if depth == 0 and least == 0:
        return area, ()
    opened, closed = -least, depth - least
    if opened + closed > 6 or deepest > _DEEPEST:
        return area, ()
    text = area.text[: area.start] + "(" * opened + area.text[area.start : area.end] + ")" * closed
    shift = opened
    first, last = area.start, area.end
    starts = [*area.starts[:first], *[area.starts[first]] * opened, *area.starts[first:last], *[area.ends[last - 1]] * closed]
    ends = [*area.ends[:first], *[area.starts[first]] * opened, *area.ends[first:last], *[area.ends[last - 1]] * closed]
    overrides = {key + shift: tuple(_moved(e, shift) for e in edges) for key, edges in area.overrides.items()}
    note = Assumption(code="bracket-added", text="a missing bracket is supplied", at=(area.starts[first], area.ends[last - 1]))
    mended = area._replace(text=text, end=area.end + opened + closed, starts=starts, ends=ends, overrides=overrides)
    return mended, (note,)


def _in_balance(text: str) -> bool:
    """Every bracket closes, and none before it opens."""
    depth = 0
    for c in text:
        if c == "(":
            depth += 1
        elif c == ")":
            depth -= 1
            if depth < 0:
                return False
    return depth == 0


def _moved(edge: Edge, shift: int) -> Edge:
    return Edge(edge.start + shift, edge.end + shift, edge.kind, edge.toks, edge.cost, edge.note, edge.choice, edge.wide, edge.last)


def placed(node: Expr, starts: Sequence[int], ends: Sequence[int], base: int) -> Expr:
    """The tree with typed columns: `base` is where the side's text begins in the cleaned line."""
    place = node.at
    at = None if place is None else (starts[base + place[0]], ends[base + (place[1] - 1 if place[1] > place[0] else place[0])])
    match node:
        case Number():
            return Number(text=node.text, value=node.value, half=node.half, figures=node.figures, at=at)
        case Symbol():
            return Symbol(name=node.name, known=node.known, at=at)
        case UnitFactor():
            return UnitFactor(unit=node.unit, at=at)
        case Product():
            return Product(factors=tuple([placed(n, starts, ends, base) for n in node.factors]), at=at)
        case Quotient():
            return Quotient(over=placed(node.over, starts, ends, base), under=placed(node.under, starts, ends, base), at=at)
        case Power():
            return Power(base=placed(node.base, starts, ends, base), exponent=placed(node.exponent, starts, ends, base), at=at)
        case Sum():
            return Sum(terms=tuple([placed(n, starts, ends, base) for n in node.terms]), at=at)
        case Negative():
            return Negative(inner=placed(node.inner, starts, ends, base), at=at)
        case Root():
            return Root(inner=placed(node.inner, starts, ends, base), degree=node.degree, at=at)
        case Call():
            return Call(function=node.function, inner=placed(node.inner, starts, ends, base), at=at)
        case PlusMinus():
            return PlusMinus(value=placed(node.value, starts, ends, base), uncertainty=placed(node.uncertainty, starts, ends, base), at=at)
    return node


def placed_note(note: Assumption, starts: Sequence[int], ends: Sequence[int], base: int) -> Assumption:
    place = note.at
    at = None if place is None else (starts[base + place[0]], ends[base + (place[1] - 1 if place[1] > place[0] else place[0])])
    return Assumption(code=note.code, text=note.text, at=at)
