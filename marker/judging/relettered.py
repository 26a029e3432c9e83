"""Equations that are true once a letter is taken for another quantity than the part's: R for R₂, p for ρ, the lamp's R for the cell's r."""

from __future__ import annotations

from collections.abc import Iterator

from marker.expression import Expr, Number, Symbol, put, symbols, walk
from marker.judging.dimensions import dimensions_of
from marker.judging.families import stem
from marker.physics.evaluate import same_dimensions
from marker.physics.system import Equation
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.definitions import restatements

# letters of a keyboard without Greek ones
LOOK_ALIKES = {"p": "ρ", "v": "ν", "u": "μ", "w": "ω", "n": "η", "a": "α", "e": "ε", "t": "τ", "o": "σ", "k": "κ", "y": "γ", "B": "β"}
BOTH, LEFT, RIGHT = (True, True), (True, False), (False, True)


def relettered(part: CompiledCalculation, equation: Equation, plain: bool = False, after: Expr | None = None) -> Equation | None:
    """The first way to take one letter for another quantity with which the equation follows from the relationships.

    plain   the equation as it stands is a way too;  after  the numbers that are put in for its letters
    """
    if plain and part.system.support(equation):
        return equation
    for name, other, sides in _turns(part, equation, after):
        changed = turned(equation, name, other, sides)
        if part.system.support(changed):
            return changed
    return None


def turned(equation: Equation, name: str, other: str, sides: tuple[bool, bool] = BOTH) -> Equation:
    """The equation with one letter for another, on the sides named."""
    turn: dict[str, Expr] = {name: Symbol(name=other, known=True)}
    left, right = (put(side, turn) if here else side for side, here in zip(equation, sides, strict=True))
    return left, right


def as_its_numbers(part: CompiledCalculation, equation: Equation) -> Equation | None:
    """The equation with one letter taken for the quantity whose value is put in: for one of its kind, or of all but its letter.

    `t = Q/P = 1.55e7/5952`, P given as the whole power and these the useful one; `Q = mct` with a rise of temperature put in.
    To be asked only where the numbers that follow are right.
    """
    left, right = equation
    for name in sorted(symbols(right) & part.system.base.keys()):
        for other in sorted(part.system.base.keys() - symbols(left) - symbols(right)):
            if _of_a_kind(part, name, other) or _almost(name, other):
                changed = turned(equation, name, other, RIGHT)
                if part.system.support(changed):
                    return changed
    return None


def _turns(part: CompiledCalculation, equation: Equation, after: Expr | None) -> Iterator[tuple[str, str, tuple[bool, bool]]]:
    """(letter, quantity it may be, sides it is changed on), likeliest first."""
    used = symbols(equation[0]) | symbols(equation[1])
    for name in sorted(used - {"π"}):
        for other in part.system.base:
            if other != name == stem(name) == stem(other):
                yield name, other, BOTH
    for latin, greek in LOOK_ALIKES.items():
        if latin in used and latin in part.system.base and greek in part.system.base:
            yield from ((latin, greek, sides) for sides in (RIGHT, LEFT, BOTH))
    changes = [n for n in part.system.base if n[0] in "Δδ"]
    yield from ((name, other, BOTH) for name in sorted(used & part.system.base.keys()) for other in changes if _almost(name, other))
    yield from _other_subject(part, equation)
    yield from _other_datum(part, used, after)


def _other_subject(part: CompiledCalculation, equation: Equation) -> Iterator[tuple[str, str, tuple[bool, bool]]]:
    """Q = mL where Q is the whole heat; `V₂ = V R₂/(R₁ + R₂)`, read as V = V R₂/(R₁ + R₂): one letter for two of a kind."""
    left, right = equation
    subject = next(iter(symbols(left)), "")
    if len(symbols(left)) != 1 or subject not in part.system.base:
        return
    dims, again = part.dimensions.get(subject), subject in symbols(right) and subject not in part.data
    for name in part.system.base:
        alike = name != subject and name not in symbols(right) and part.dimensions.get(name) == dims
        if alike and again:
            yield from ((subject, name, side) for side in (RIGHT, LEFT))
        elif alike and dims is not None and name not in part.data:
            yield subject, name, LEFT
    if isinstance(left, Symbol) and subject in part.data and not part.data[subject].constant:
        yield from _of_the_kind_found(part, subject, right)


def _of_the_kind_found(part: CompiledCalculation, subject: str, right: Expr) -> Iterator[tuple[str, str, tuple[bool, bool]]]:
    """`E = VIt` for an energy where the part has E for the e.m.f.: what stands right of the sign can be no e.m.f."""
    made = dimensions_of(right, part.dimensions)
    if made is None or subject in symbols(right) or same_dimensions(made, part.dimensions.get(subject)):
        return
    for goal in part.goals:
        if same_dimensions(made, part.dimensions.get(goal.find)):
            yield subject, goal.find, LEFT


def _other_datum(part: CompiledCalculation, used: frozenset[str], after: Expr | None) -> Iterator[tuple[str, str, tuple[bool, bool]]]:
    """`P = I²R` for the power in r, where R is given too: the relationship is the right one, whatever is then put in for R.

    So too `a = F/m = 159/64` for the resultant force, where F is the friction given and another number is put in.
    """
    put_in = [n.value for n in walk(after) if isinstance(n, Number)] if after is not None else []
    goals = {g.find for g in part.goals}
    doubles = [pair for _, pair in restatements(part)]  # d = 2r: the one is not the other
    for name in sorted(used & part.data.keys()):
        if not any(part.dimensions.get(name) or ()):
            continue
        for other in sorted(part.system.base.keys() - used - goals, key=lambda n: (n not in part.data, n)):
            if other not in part.data and (not put_in or any(v in (part.data[name].raw, part.data[name].si) for v in put_in)):
                continue
            constant = other in part.data and part.data[other].constant
            if not constant and _of_a_kind(part, name, other) and {name, other} not in doubles:
                yield name, other, BOTH


def _of_a_kind(part: CompiledCalculation, one: str, other: str) -> bool:
    first, second = part.dimensions.get(one), part.dimensions.get(other)
    return first is not None and same_dimensions(first, second)


def _almost(letter: str, quantity: str) -> bool:
    """t for ΔT, T for t, R for R_T."""
    return stem(letter).lstrip("Δδ").casefold() == stem(quantity).lstrip("Δδ").split("_")[0].casefold()
