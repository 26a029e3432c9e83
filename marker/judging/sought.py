"""What is looked for in a part: its open quantities, simple functions of them, and the scales of the units its data are given in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from marker.expression import Call, Expr, Number, Power, Quotient, Symbol
from marker.judging.lifting import near
from marker.physics.evaluate import same_dimensions
from marker.scheme.compiled import CompiledCalculation

MOST_PARTS = 1_000


@dataclass(frozen=True, slots=True)
class Target:
    """A quantity sought or a simple function of one, with its value at every probe of the whole system."""

    name: str
    tree: Expr
    values: tuple[float, ...]

    def met_by(self, values: Sequence[float], factors: Sequence[float]) -> bool:
        """The values at the first probes are the target's, some factor (a unit's scale) allowed."""
        return any([near(self.values, values, f) for f in factors])


@lru_cache(maxsize=MOST_PARTS)
def sought(part: CompiledCalculation) -> tuple[str, ...]:
    """Quantities that are found, not given: what is asked first, then those on the way."""
    goals = [g.find for g in part.goals]
    return (*goals, *(n for n in part.system.base if n not in part.data and n not in goals and n not in part.free))


@lru_cache(maxsize=MOST_PARTS)
def targets(part: CompiledCalculation) -> tuple[Target, ...]:
    """The quantities sought, then their simple functions; names differ."""
    names = sought(part)
    trees: dict[str, Expr] = {name: Symbol(name=name, known=True) for name in names}
    trees.update((label, tree) for name in names for label, tree in _functions_of(name, name in part.angles))
    return tuple(Target(name, tree, part.system.vector(tree)) for name, tree in trees.items())


def _functions_of(name: str, angle: bool) -> Iterator[tuple[str, Expr]]:
    """Simple functions of a quantity that working passes through: v², 1/R, sin θ."""
    letter = Symbol(name=name, known=True)
    if angle:
        yield from ((f"{f} {name}", Call(function=f, inner=letter)) for f in ("sin", "cos", "tan"))
        return
    yield f"{name}^2", Power(base=letter, exponent=Number(text="2", value=2.0))
    yield f"1/{name}", Quotient(over=Number(text="1", value=1.0), under=letter)


@lru_cache(maxsize=20 * MOST_PARTS)
def data_scales(part: CompiledCalculation, about: str) -> tuple[float, ...]:
    """Scales of units in which data of the same kind as the quantity are given: all lengths left in cm give a length in cm."""
    dims = part.dimensions.get(about)
    if dims is None or not any(dims[:7]):
        return ()
    other = tuple(-x for x in dims)
    found = {
        d.unit.scale
        for d in part.data.values()
        if d.unit is not None
        and d.unit.scale != 1.0
        and (same_dimensions(d.unit.dimensions, dims) or same_dimensions(d.unit.dimensions, other))  # type: ignore[arg-type]
    }
    return tuple(f for s in sorted(found) for f in (s, 1 / s))


@lru_cache(maxsize=20 * MOST_PARTS)
def data_offsets(part: CompiledCalculation, about: str) -> frozenset[float]:
    """Offsets of the units in which data of the same kind are given: a temperature sought in °C beside others in °C."""
    dims = part.dimensions.get(about)
    units = (d.unit for d in part.data.values())
    return frozenset(u.offset for u in units if u is not None and u.offset and dims is not None and same_dimensions(u.dimensions, dims))
