"""Values for letters that the model answer never names a value of: constants, values of the question, or what an equation gives."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import product

from marker.expression import Expr, symbols
from marker.judging.leaves import value_parts
from marker.physics.system import near_root
from marker.scheme.draft.equations import agree
from marker.scheme.draft.stem import Given
from marker.scheme.draft.values import Value, nought, unit_of
from marker.scheme.draft.working import Written
from marker.scheme.lexicon import constants, kinds_of

_CLOSE = 0.015
_MOST_MISSING, _MOST_WAYS = 4, 4000


def fill(written: Sequence[Written], values: dict[str, Value]) -> None:
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
                values[name] = Value(letter=name, si=float(number), unit=unit_of(row.unit), text=text, source="sheet", line=e.line)
                changed = True
            missing = sorted(names - values.keys())
            if len(missing) == 1:
                changed |= _solved((e.left, e.right), missing[0], values, e.line)
        if not changed:
            return


def from_stem(written: Sequence[Written], values: dict[str, Value], given: Sequence[Given], loose: Sequence[Expr]) -> None:
    """Letters without a value take values of the question, or numbers put in somewhere, that make their equation hold; if that
    can be done in one way only. Values of the question are tried first, each for letters it may be a value of."""
    typed = [
        Given(text=value_text(e), si=_si(e), raw=_si(e), number=number, unit=None, at=(0, 0))
        for e in loose
        if (number := value_parts(e)[0])
    ]
    for e in sorted(written, key=lambda e: len(_missing(e, values))):
        missing = _missing(e, values)
        starts = [n for n in missing if n.endswith("_0")]
        if starts and _without(e, starts, missing, values, (*given, *typed)):
            values.update((n, nought(n, e.line)) for n in starts)
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


def _without(e: Written, starts: Sequence[str], missing: Sequence[str], values: Mapping[str, Value], given: Sequence[Given]) -> bool:
    """The equation holds with nought for its starts: x = x_0 + v_0 t + ½at² from the origin. Other letters take values of the question."""
    env = {n: v.si for n, v in values.items()} | dict.fromkeys(starts, 0.0)
    others = [n for n in missing if n not in starts]
    if len(others) > 1:
        return False
    return any(agree(e, {**env, **dict.fromkeys(others, si)}, _CLOSE) for si in ([g.si for g in given] if others else [0.0]))


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
        if agree(e, point, _CLOSE) and not agree(e, {**point, missing[0]: 1.7 * point[missing[0]]}, _CLOSE):
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
