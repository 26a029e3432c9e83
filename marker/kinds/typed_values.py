"""Numerical values a candidate typed, with their units, ranges and rivals, for kinds that ask for values alone."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.expression import Dimensions, Expr, Negative, Number, Product, Sum, UnitFactor, has_unit, walk
from marker.physics.evaluate import Unknown, evaluate, last_place
from marker.reading import read_lines, write_plain
from marker.reading.model import Line, Reading, Statement, SymbolTable

# assumptions by which a power of ten or a separator was lost on the way to the keyboard; others are not granted
GRANTED = frozenset(
    {"lost-power", "decimal-comma", "thousands", "unit-lost-superscript", "unit-run-together", "unit-spelling", "unit-ambiguous"}
)


_NUMBERS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_COUNT = re.compile(
    rf"(?P<number>\d{{1,2}}|{'|'.join(_NUMBERS)})"
    r"(?: ?(?:s\. ?f\.?|sf|sig\.? figs?\.?|significant figures?|figures?|figs?))?[.!]?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """One way to read a value. si, raw: in SI and as typed; half: half a unit of its last place (si, raw).

    figures  (least, most) significant figures, None for a result that is not one number;  upper  the other end of a range
    """

    si: float
    raw: float
    dimensions: Dimensions | None
    unit: bool
    text: str
    half: tuple[float, float] = (0.0, 0.0)
    figures: tuple[int, int] | None = None
    plain: bool = True
    upper: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """One value with the ways to read it, plainest first. `bare` is True for a value without a letter or working before it."""

    line: int
    at: tuple[int, int]
    text: str
    ways: tuple[Worth, ...]
    bare: bool
    before: str = ""
    withdrawn: bool = False
    alternative: bool = False
    final: bool = False


def values_in(lines: Sequence[str]) -> tuple[tuple[Typed, ...], tuple[Line, ...]]:
    """Every statement that comes to a number, in order; and the lines as read."""
    lines = [_number_of_figures(line) for line in lines]
    read = read_lines(list(lines), SymbolTable(), range_ends=True)
    found: list[Typed] = []
    for line in read:
        for statement in line.statements:
            ways = tuple(w for w in (_worth(r, statement) for r in statement.readings) if w is not None)
            if ways:
                found.append(_typed(line, statement, ways))
    return _rejected(_ranges(tuple(found), lines), lines), read


def _number_of_figures(line: str) -> str:
    """`3 s.f.`, `three significant figures`, `three`: a line that is a count and nothing else, as its number."""
    found = _COUNT.fullmatch(line.strip())
    if found is None:
        return line
    number = found["number"].lower()
    return str(_NUMBERS.index(number)) if number in _NUMBERS else number


def _typed(line: Line, statement: Statement, ways: tuple[Worth, ...]) -> Typed:
    sides = statement.readings[0].sides
    return Typed(
        line=statement.line,
        at=statement.at,
        text=statement.text,
        ways=ways,
        bare=len(sides) == 1 and not statement.readings[0].opens,
        before=statement.before,
        withdrawn=statement.withdrawn or line.withdrawn,
        alternative=statement.alternative,
        final=statement.final,
    )


def _worth(reading: Reading, statement: Statement) -> Worth | None:
    """The value a reading comes to: its last side that is a number."""
    for side in reversed(reading.sides):
        between = _between(side, statement.text)
        try:
            value = evaluate(side if between is None else between[0])
            upper = None if between is None else evaluate(between[1])
        except Unknown:
            continue
        plain = not reading.assumptions or reading is statement.readings[0]
        granted = plain or all(a.code in GRANTED for a in reading.assumptions)
        if not granted:
            return None
        numbers = [n for n in walk(side) if isinstance(n, Number)]
        # the dash of "m - 70 kg" is no minus sign
        dashed = value.si < 0 and isinstance(side, Negative | Product) and statement.text.lstrip()[:1] in "-–—" and statement.at[0] > 0
        sign = -1.0 if dashed else 1.0
        return Worth(
            si=sign * value.si,
            raw=sign * value.raw,
            dimensions=value.dimensions,
            unit=has_unit(side),
            text=write_plain(side),
            half=last_place(side),
            figures=numbers[0].figures if len(numbers) == 1 else None,
            plain=plain,
            upper=None if upper is None else (upper.si, upper.raw),
        )
    return None


def _between(side: Expr, text: str) -> tuple[Expr, Expr] | None:
    """ "60-80 kg": both ends, with the one unit they share; None for anything else."""
    if not isinstance(side, Sum) or len(side.terms) != 2 or not isinstance(side.terms[1], Negative):
        return None
    low, high = side.terms[0], side.terms[1].inner
    if not (_simple(low) and _simple(high)) or "=" in text:
        return None
    if isinstance(high, Product) and isinstance(low, Number):
        low = Product(factors=(low, *(f for f in high.factors if isinstance(f, UnitFactor))))
    try:
        return (low, high) if evaluate(low).si < evaluate(high).si else None
    except Unknown:
        return None


def _simple(node: Expr) -> bool:
    """A number, or a number with units."""
    if isinstance(node, Product):
        return isinstance(node.factors[0], Number) and all(isinstance(f, UnitFactor) for f in node.factors[1:])
    return isinstance(node, Number)


def _ranges(found: tuple[Typed, ...], lines: Sequence[str]) -> tuple[Typed, ...]:
    """ "60 to 80 kg" and "between 60 and 80 kg" as one value with two ends."""
    out: list[Typed] = []
    for value in found:
        last = out[-1] if out else None
        if last is not None and last.line == value.line and last.bare and value.bare and not value.alternative:
            joint = lines[value.line - 1][last.at[1] : value.at[0]].strip().lower()
            opened = "between" in last.before.lower() or "from" in last.before.lower()
            low, high = last.ways[0], value.ways[0]
            if joint in ("to", "-", "–") or (joint == "and" and opened):
                scale = high.si / high.raw if high.raw and not low.unit else 1.0
                start = (low.raw * scale, low.raw) if not low.unit else (low.si, low.raw)
                merged = replace(high, si=start[0], raw=start[1], upper=(high.si, high.raw), text=f"{low.text} to {high.text}")
                out[-1] = replace(value, ways=(merged,), at=(last.at[0], value.at[1]), text=f"{last.text} {joint} {value.text}")
                continue
        out.append(value)
    return tuple(out)


_REJECTION = re.compile(
    r"[\s,.;:?!()…–—-]{0,4}(?:but |hmm? |wait |oh |oops |that(?: is|'s|s)? |which is |this is |is )*"
    r"(?:no\b(?! (?:less|more|fewer|smaller|greater|larger))|nope\b|not right|wrong\b|can(?:no|')?t be|"
    r"(?:far |much |way )?too (?:big|small|large|much|little|high|low|many|few|heavy|light|fast|slow|long|short|hot|cold)\b)",
    re.IGNORECASE,
)


def _rejected(found: tuple[Typed, ...], lines: Sequence[str]) -> tuple[Typed, ...]:
    """ "1000 J no too big" before another value: the candidate has given it up."""
    out = list(found)
    for place, value in enumerate(found[:-1]):
        following = found[place + 1]
        stop = following.at[0] if following.line == value.line else None
        if _REJECTION.match(lines[value.line - 1][value.at[1] : stop]):
            out[place] = replace(value, withdrawn=True)
    return tuple(out)


def rivals(found: Sequence[Typed]) -> tuple[Typed, ...]:
    """The value offered as the answer, and others offered beside it: "70 kg or 80 kg", or several bare values.

    Working that leads to the last value is no rival; a value marked as the answer stands alone.
    """
    standing = [v for v in found if not v.withdrawn]
    if not standing:
        return ()
    marked = [v for v in standing if v.final]
    if marked:
        return (marked[-1],)
    last = len(standing) - 1
    first = last
    while first > 0 and (standing[first].alternative or (standing[first].bare and standing[first - 1].bare)):
        first -= 1
    return tuple(standing[first:])
