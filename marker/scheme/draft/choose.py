"""From a model answer to the makings of a part: which equations are needed, which values are data, and what is found."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise, product

from marker.expression import Dimensions, Expr, Symbol, Unit, symbols
from marker.judging.leaves import value_parts
from marker.physics.evaluate import same_dimensions, value_at
from marker.physics.system import near_root
from marker.physics.units import parse_unit
from marker.scheme.draft.sheet_match import sheet_of
from marker.scheme.draft.stem import Given, same_value, values_given
from marker.scheme.draft.working import Assigned, Working, Written
from marker.scheme.lexicon import constants, kinds_of
from marker.scheme.sheets import SheetRelationship

_NEAR = 0.03
_SAME = 0.02
_CLOSE = 0.015
_MOST_MISSING, _MOST_WAYS = 4, 4000


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """The value of a letter in a part: where it is from ("stem", "working", "sheet" for a constant, "found"), and its text.

    line  of the model answer where it was seen first
    """

    letter: str
    si: float
    unit: Unit | None
    text: str
    source: str
    line: int

    @property
    def dimensions(self) -> Dimensions | None:
        return self.unit.dimensions if self.unit is not None else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Equation:
    """An equation kept, with the row of the sheets it is, if any."""

    left: Expr
    right: Expr
    line: int
    row: SheetRelationship | None = None

    @property
    def letters(self) -> frozenset[str]:
        return (symbols(self.left) | symbols(self.right)) - {"π"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A run of lines in which every letter keeps one value: the makings of one part.

    goals  letters found that lead to nothing further, in order;  lines  (first, last + 1) of the model answer
    left_out  equations that do not hold with the values, or whose letters have none
    """

    equations: tuple[Equation, ...]
    values: Mapping[str, Value]
    goals: tuple[str, ...]
    lines: tuple[int, int]
    left_out: tuple[Written, ...] = field(default=())


def segments_of(working: Working, stem: str, count: int) -> tuple[Segment, ...]:
    """The model answer cut where a letter takes a second value, each piece with its equations, values and goals."""
    given = values_given(stem)
    cuts = [0, *_cuts(working, count, given), count]
    out: list[Segment] = []
    before: dict[str, Value] = {}
    for start, end in pairwise(cuts):
        segment = _segment(working, given, start, end, before)
        if segment is not None:
            out.append(segment)
            before.update(segment.values)
    return tuple(out)


def _cuts(working: Working, count: int, given: Sequence[Given]) -> list[int]:
    """Lines at which a letter already valued is given another value (not a rounding, another unit or another sign).

    A value that is only put in cuts where it is another one of the question's: a second case of the same equation.
    """
    last: dict[str, Assigned] = {}
    cuts: list[int] = []
    for a in (a for a in working.assigned if math.isfinite(a.si)):
        held = last.get(a.letter)
        if held is not None and (not a.put_in or (held.put_in and _in_stem((a,), given) and _in_stem((held,), given))) and _other(held, a):
            if not cuts or a.line > cuts[-1]:
                cuts.append(a.line)
            last = {}
        if held is None or not a.put_in:
            last[a.letter] = a
    return [c for c in cuts if 0 < c < count]


def _other(a: Assigned, b: Assigned) -> bool:
    if a.unit is not None and b.unit is not None and not same_dimensions(a.unit.dimensions, b.unit.dimensions):
        return False
    if a.unit is None or b.unit is None:
        near = abs(a.number.value - b.number.value) <= 0.05 * max(abs(a.number.value), abs(b.number.value))
        return not near and not _close(a.si, b.si, 0.05)
    return not _close(abs(a.si), abs(b.si), 0.05)


def _close(a: float, b: float, by: float = _SAME) -> bool:
    return abs(a - b) <= by * max(abs(a), abs(b))


def _segment(working: Working, given: Sequence[Given], start: int, end: int, before: Mapping[str, Value]) -> Segment | None:
    written = [e for e in working.equations if start <= e.line < end]
    assigned = [a for a in working.assigned if start <= a.line < end]
    earlier = [e for e in working.equations if e.line < start]
    values = _values(assigned, written, given)
    letters = {n for e in written for n in (symbols(e.left) | symbols(e.right))} | {a.letter for a in assigned}
    for name, value in before.items():
        if name in letters and name not in values:
            values[name] = replace(value, source="working" if value.source != "found" else "carried")
    if not any(v.source == "found" for v in values.values()):
        return None
    written += [e for e in earlier if _needed(e, written, values)]
    _from_stem(written, values, given, [x for line, x in working.loose if start <= line < end])
    _fill(written, values)
    equations, left_out = _kept(written, values)
    goals = _goals(equations, values, assigned)
    if not goals:
        return None
    return Segment(equations=equations, values=values, goals=goals, lines=(start, end), left_out=left_out)


def _needed(equation: Written, here: Sequence[Written], values: Mapping[str, Value]) -> bool:
    """An equation stated before a cut serves the piece after it where that piece finds one of its letters without saying how."""
    names = (symbols(equation.left) | symbols(equation.right)) - {"π"}
    found = {n for n, v in values.items() if v.source == "found"}
    explained = {n for e in here for n in (symbols(e.left) | symbols(e.right))}
    return bool(names & found - explained)


# --- values --------------------------------------------------------------------------------------------


def _values(assigned: Sequence[Assigned], written: Sequence[Written], given: Sequence[Given]) -> dict[str, Value]:
    """One value a letter. A value of the question is a datum however it came up; a value worked out is found."""
    out: dict[str, Value] = {}
    subjects: dict[str, int] = {}
    for e in written:
        if isinstance(e.left, Symbol):
            subjects.setdefault(e.left.name, e.line)
    for letter in dict.fromkeys(a.letter for a in assigned):
        mine = [a for a in assigned if a.letter == letter and math.isfinite(a.si)]
        towards = any(a.letter == letter and a.worked and not math.isfinite(a.si) for a in assigned)
        if not mine:
            continue
        constant = _constant(letter, mine, subjects)
        stem = _in_stem(mine, given, letter) if not any(a.worked and not a.put_in for a in mine) or letter not in subjects else None
        stem = stem or (_in_stem([a for a in mine if not a.worked], given, letter) if not any(a.worked for a in mine) else None)
        best = _best(mine)
        before = any(not a.worked and not a.put_in and a.line < subjects.get(letter, -1) for a in mine)
        worked = towards or any(a.worked for a in mine) or (letter in subjects and not best.put_in and not before)
        if constant is not None:
            out[letter] = constant
        elif stem is not None and (letter not in subjects or not (worked and any(a.worked for a in mine))):
            sign = -1 if best.si < 0 < stem.si else 1
            text = stem.text if sign > 0 else f"-{stem.text}"
            out[letter] = Value(letter=letter, si=sign * stem.si, unit=stem.unit, text=text, source="stem", line=best.line)
        else:
            source = "found" if worked else "working"
            out[letter] = Value(letter=letter, si=best.si, unit=best.unit, text=_text(best), source=source, line=best.line)
    return out


def _best(mine: Sequence[Assigned]) -> Assigned:
    """The value as finally stated: the last that is written out with its unit, before one seen only in a substitution."""
    stated = [a for a in mine if not a.put_in]
    with_unit = [a for a in stated if a.unit is not None]
    return (with_unit or stated or [a for a in mine if a.unit is not None] or list(mine))[-1]


def _in_stem(mine: Sequence[Assigned], given: Sequence[Given], letter: str = "") -> Given | None:
    """The value of the question that a letter is given: with its unit, else the bare number in SI or as printed."""
    for a in mine:
        half = abs(a.number.half * (a.unit.scale if a.unit else 1.0))
        dims = a.unit.dimensions if a.unit is not None else None
        found = [g for g in given if (g.unit is None) == (a.unit is None) and same_value(g, a.si, dims, half)]
        if not found and a.unit is None:
            found = [g for g in given if g.unit is not None and (_close(abs(g.si), abs(a.si), 2e-3) or abs(g.raw) == abs(a.number.value))]
        if found:
            return next((g for g in found if letter and g.dimensions and kinds_of(letter, g.dimensions)), found[0])
    return None


def _text(a: Assigned) -> str:
    number = a.number.text.replace("−", "-")
    if a.unit is None:
        return number
    if a.unit.name == "°":
        return f"{number}°"
    return f"{number} {a.unit.name}"


def _constant(letter: str, mine: Sequence[Assigned], subjects: Iterable[str]) -> Value | None:
    """A constant of the data sheet: its letter with one of its accepted values, never worked out here."""
    row = next((c for c in constants() if c.symbol == letter or letter in c.letters), None)
    if row is None or letter in subjects or any(a.worked for a in mine):
        return None
    a = _best(mine)
    if any(
        abs(abs(a.si) - float(v)) <= max(5e-3 * abs(float(v)), abs(a.number.half * (a.unit.scale if a.unit else 1.0))) for v in row.values
    ):
        text = _text(a).lstrip("-") if a.unit is not None else f"{a.number.text.lstrip('-')} {row.unit}".strip()
        return Value(letter=letter, si=abs(a.si), unit=a.unit or _unit(row.unit), text=text, source="sheet", line=a.line)
    return None


def _unit(text: str) -> Unit | None:
    found = parse_unit(text) if text else ()
    return found[0][0] if found else None


def _fill(written: Sequence[Written], values: dict[str, Value]) -> None:
    """Values for letters that have none: constants by their letter, then whatever an equation with one such letter gives."""
    known = {c.symbol: c for c in constants()}
    unmistakable = {"g", "G", "h", "N_A", "ε_0", "μ_0", "m_e", "m_p", "k_B", "c"}
    for _ in range(6):
        changed = False
        for e in written:
            names = (symbols(e.left) | symbols(e.right)) - {"π"}
            missing = sorted(names - values.keys())
            for name in [n for n in missing if n in known and n in unmistakable]:
                row = known[name]
                number = row.values[0] if name != "g" else "9.81"
                text = f"{number} {row.unit}".strip()
                values[name] = Value(letter=name, si=float(number), unit=_unit(row.unit), text=text, source="sheet", line=e.line)
                changed = True
            missing = sorted(names - values.keys())
            if len(missing) == 1:
                changed |= _solved((e.left, e.right), missing[0], values, e.line)
        if not changed:
            return


def _from_stem(written: Sequence[Written], values: dict[str, Value], given: Sequence[Given], loose: Sequence[Expr]) -> None:
    """Letters without a value take values of the question, or numbers put in somewhere, that make their equation hold; if that
    can be done in one way only. Values of the question are tried first, each for letters it may be a value of."""
    typed = [
        Given(text=value_text(e), si=_si(e), raw=_si(e), number=number, unit=None, at=(0, 0))
        for e in loose
        if (number := value_parts(e)[0])
    ]
    for e in sorted(written, key=lambda e: len(_missing(e, values))):
        missing = _missing(e, values)
        if not 1 <= len(missing) <= _MOST_MISSING:
            continue
        for pool, source in ((given, "stem"), ((*given, *typed), "working")):
            fits = _fitting(e, missing, values, pool)
            if len(fits) == 1:
                for name, found in zip(missing, fits[0], strict=True):
                    kind = "stem" if found in given else source
                    values[name] = Value(letter=name, si=found.si, unit=found.unit, text=found.text, source=kind, line=e.line)
                break


def _missing(e: Written, values: Mapping[str, Value]) -> list[str]:
    return sorted((symbols(e.left) | symbols(e.right)) - {"π"} - values.keys())


def _fitting(e: Written, missing: Sequence[str], values: Mapping[str, Value], pool: Sequence[Given]) -> list[tuple[Given, ...]]:
    """Ways to give the missing letters values of the pool so that the equation holds; one with the same numbers counts once."""
    env = {n: v.si for n, v in values.items()}
    choices = [[g for g in pool if g.si and (g.unit is None or len(missing) == 1 or kinds_of(n, g.dimensions))] for n in missing]
    if math.prod(map(len, choices)) > _MOST_WAYS:
        return []
    found: dict[tuple[str, ...], tuple[Given, ...]] = {}
    for way in product(*choices):
        if len({g.at for g in way if g.at != (0, 0)}) < sum(g.at != (0, 0) for g in way):
            continue
        point = {**env, **{n: g.si for n, g in zip(missing, way, strict=True)}}
        if _agree(e, point, _CLOSE) and not _agree(e, {**point, missing[0]: 1.7 * point[missing[0]]}, _CLOSE):
            found.setdefault(tuple(f"{g.si:.9e}" for g in way), way)
    return list(found.values())


def value_text(e: Expr) -> str:
    """A number or quantity as typed."""
    number, unit = value_parts(e)
    return "" if number is None else f"{number.text} {unit.name}".strip() if unit is not None else number.text


def _si(e: Expr) -> float:
    number, unit = value_parts(e)
    assert number is not None
    return (number.value + (unit.offset if unit else 0.0)) * (unit.scale if unit else 1.0)


def _solved(equation: tuple[Expr, Expr], name: str, values: dict[str, Value], line: int) -> bool:
    env = {n: v.si for n, v in values.items()}
    for start in (1.0, 1e-3, 1e3, 1e-6, 1e6, -1.0):
        root = near_root(equation, name, env, start)
        if root is not None and 1e-40 < abs(root) < 1e40:
            values[name] = Value(letter=name, si=root, unit=None, text="", source="between", line=line)
            return True
    return False


# --- equations ---------------------------------------------------------------------------------------


def _kept(written: Sequence[Written], values: Mapping[str, Value]) -> tuple[tuple[Equation, ...], tuple[Written, ...]]:
    """Equations that hold with the values, none of which follows from those before it (to first order, where the values are)."""
    env = {n: v.si for n, v in values.items()}
    dims = {n: v.dimensions for n, v in values.items()}
    kept: list[Equation] = []
    out: list[Written] = []
    rows: list[dict[str, float]] = []
    for e in sorted(written, key=lambda e: (len(_unvalued(e, values)), e.line)):
        names = (symbols(e.left) | symbols(e.right)) - {"π"}
        if not names <= env.keys() or not _agree(e, env):
            out.append(e)
            continue
        gradient = _gradient(e, env, sorted(names))
        if gradient is None or not _adds(rows, gradient):
            continue
        rows.append(gradient)
        kept.append(Equation(left=e.left, right=e.right, line=e.line, row=sheet_of(e.left, e.right, env, dims)))
    return _without_loose_ends(kept, values), tuple(out)


def _unvalued(e: Written, values: Mapping[str, Value]) -> frozenset[str]:
    """Letters of an equation that the model answer nowhere gives a value."""
    names = (symbols(e.left) | symbols(e.right)) - {"π"}
    return frozenset(n for n in names if n not in values or values[n].source == "between")


def _without_loose_ends(kept: Sequence[Equation], values: Mapping[str, Value]) -> tuple[Equation, ...]:
    """Leaves out, again and again, equations with a letter that has no value and stands in no other."""
    left = list(kept)
    while True:
        loose = [
            e for e in left if any(values[n].source == "between" and sum(n in other.letters for other in left) == 1 for n in e.letters)
        ]
        if not loose:
            return tuple(left)
        left.remove(loose[-1])


def _agree(e: Written, env: Mapping[str, float], by: float = _NEAR) -> bool:
    a, b = value_at(e.left, env), value_at(e.right, env)
    if not (math.isfinite(a) and math.isfinite(b)):
        return False
    return abs(a - b) <= by * max(abs(a), abs(b), 0.3 * _largest(e, env))


def _largest(e: Written, env: Mapping[str, float]) -> float:
    """The largest term of an equation: a difference of two large terms is known no better than they are."""
    from marker.expression import Sum

    terms = [t for side in (e.left, e.right) for t in (side.terms if isinstance(side, Sum) else (side,))]
    found = [abs(v) for t in terms if math.isfinite(v := value_at(t, env))]
    return max(found, default=0.0)


def _gradient(e: Written, env: Mapping[str, float], names: Sequence[str]) -> dict[str, float] | None:
    """How much the equation's gap changes with each letter, per part of the letter; None where it has no slope."""
    out: dict[str, float] = {}
    scale = max(abs(value_at(e.left, env)), abs(value_at(e.right, env)), _largest(e, env)) or 1.0
    for name in names:
        step = 1e-5 * (abs(env[name]) or 1.0)
        up, down = ({**env, name: env[name] + s} for s in (step, -step))
        slope = (_gap(e, up) - _gap(e, down)) / (2e-5 * scale)
        if not math.isfinite(slope):
            return None
        out[name] = slope
    return out if any(abs(v) > 1e-9 for v in out.values()) else None


def _gap(e: Written, env: Mapping[str, float]) -> float:
    return value_at(e.left, env) - value_at(e.right, env)


def _adds(rows: Sequence[Mapping[str, float]], new: Mapping[str, float]) -> bool:
    """Whether a gradient is independent of those before it (values are rounded, so nearly dependent counts as dependent)."""
    names = sorted({n for r in (*rows, new) for n in r})
    matrix = [[r.get(n, 0.0) for n in names] for r in rows]
    vector = [new.get(n, 0.0) for n in names]
    basis: list[list[float]] = []
    for row in matrix:
        rest = _without(row, basis)
        length = math.sqrt(sum(x * x for x in rest))
        if length > 1e-6:
            basis.append([x / length for x in rest])
    length = math.sqrt(sum(x * x for x in vector)) or 1.0
    rest = _without([x / length for x in vector], basis)
    return math.sqrt(sum(x * x for x in rest)) > 0.05


def _without(vector: Sequence[float], basis: Sequence[Sequence[float]]) -> list[float]:
    rest = list(vector)
    for b in basis:
        along = sum(x * y for x, y in zip(rest, b, strict=True))
        rest = [x - along * y for x, y in zip(rest, b, strict=True)]
    return rest


# --- goals -------------------------------------------------------------------------------------------


def _goals(equations: Sequence[Equation], values: Mapping[str, Value], assigned: Sequence[Assigned]) -> tuple[str, ...]:
    """Letters found that nothing found later rests on, in the order they are found."""
    last = {a.letter: i for i, a in enumerate(assigned)}
    found = [n for n, v in values.items() if v.source == "found" and any(n in e.letters for e in equations)]
    found.sort(key=lambda n: last.get(n, 0))
    out = []
    for name in found:
        later = {n for n in found if last.get(n, 0) > last.get(name, 0)}
        if not any(name in e.letters and e.letters & later for e in equations):
            out.append(name)
    return tuple(out)
