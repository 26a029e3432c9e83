"""Which relationships of the sheets a model answer uses, whether or not a part can be made of it."""

from __future__ import annotations

from marker.expression import Dimensions, Expr, symbols
from marker.physics.system import near_root
from marker.scheme.draft.choose import segments_of
from marker.scheme.draft.model import Question
from marker.scheme.draft.sheet_match import sheet_of
from marker.scheme.draft.working import Written, working_of
from marker.scheme.lexicon import constants, quantity_kinds, unit_dimensions


def sheets_used(question: Question) -> tuple[str, ...]:
    """Names of the sheet relationships among the equations of a model answer, in order.

    A letter with a value counts by its unit, one without by what the letter usually is (m a mass, v a speed).
    """
    working = working_of(question.lines)
    segments = segments_of(working, question.stem, len(question.lines))
    found = [e.row.name for s in segments for e in s.equations if e.row is not None]
    known = {a.letter: a.unit.dimensions for a in working.assigned if a.unit is not None}
    for equation in working.equations:
        name = _by_letters(equation, known)
        if name is not None:
            found.append(name)
    return tuple(dict.fromkeys(found))


def _by_letters(equation: Written, known: dict[str, Dimensions]) -> str | None:
    """The row an equation is when its letters mean what they usually mean."""
    names = sorted((symbols(equation.left) | symbols(equation.right)) - {"π"})
    dims: dict[str, Dimensions | None] = {}
    for n in names:
        usual = known.get(n) or _usual(n)
        if usual is None:
            return None
        dims[n] = usual
    values = _values((equation.left, equation.right), names)
    row = sheet_of(equation.left, equation.right, values, dims) if values else None
    return None if row is None else row.name


def _usual(letter: str) -> Dimensions | None:
    stem = letter.partition("_")[0].rstrip("0123456789'")
    constant = next((c for c in constants() if letter in (c.symbol, *c.letters)), None)
    if constant is not None:
        return unit_dimensions(constant.unit)
    kinds = [k for k in quantity_kinds() if k.letters and stem == k.letters[0]] or [k for k in quantity_kinds() if stem in k.letters]
    return kinds[0].dimensions if kinds else None


def _values(equation: tuple[Expr, Expr], names: list[str]) -> dict[str, float]:
    """Some values at which the equation holds."""
    point = {n: 1.0 + 0.37 * i for i, n in enumerate(names)}
    for name in names:
        root = near_root(equation, name, point, point[name])
        if root:
            return {**point, name: root}
    return {}
