"""Between our trees and SymPy: solving a relationship, confirming a rearrangement, writing one out.

Only trees built by our own reader come in, and every letter becomes a Symbol of ours, so no text ever
reaches SymPy. SymPy is imported at first use: reading a line must not wait for it, and most class tests never need it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from marker.expression import Call, Expr, Negative, Number, PlusMinus, Power, Product, Quotient, Root, Sum, Symbol, UnitFactor, walk
from marker.physics.isolate import isolated
from marker.physics.precise import identical
from marker.physics.undoing import beyond_squares, undone

Equation = tuple[Expr, Expr]


class NotSolved(Exception):
    """SymPy finds no closed form, or none in the real numbers."""


def _sympy() -> Any:
    import sympy

    return sympy


@lru_cache(maxsize=4096)
def letter(name: str) -> Any:
    """The SymPy symbol of a letter: real, and the same object every time."""
    return _sympy().Symbol(name, real=True)


def to_sympy(node: Expr) -> Any:
    """A tree as a SymPy expression; decimals become exact fractions, units their SI scale."""
    sp = _sympy()
    match node:
        case Number(value=v, text=t):
            return _exact(v, t)
        case Symbol(name="π"):
            return sp.pi
        case Symbol(name=n):
            return letter(n)
        case UnitFactor(unit=u):
            return sp.pi / 180 if u.name == "°" else sp.Rational(repr(u.scale))
        case Sum(terms=parts):
            return sp.Add(*map(to_sympy, parts))
        case Product(factors=parts):
            return sp.Mul(*map(to_sympy, parts))
        case Quotient(over=a, under=b):
            return to_sympy(a) / to_sympy(b)
        case Power(base=a, exponent=b):
            return to_sympy(a) ** to_sympy(b)
        case Negative(inner=a):
            return -to_sympy(a)
        case Root(inner=a, degree=d):
            return to_sympy(a) ** sp.Rational(1, d)
        case PlusMinus(value=a):
            return to_sympy(a)
        case Call(function="sin" | "cos" | "tan" as name, inner=Number() as a):  # a bare number there is in degrees, as for the probes
            return _call(name, to_sympy(a) * sp.pi / 180)
        case Call(function=name, inner=a):
            return _call(name, to_sympy(a))
    raise NotSolved(type(node).__name__)


def _exact(value: float, text: str) -> Any:
    sp = _sympy()
    try:
        return sp.Rational(repr(value))
    except (TypeError, ValueError) as error:
        raise NotSolved(text) from error


def _call(name: str, argument: Any) -> Any:
    sp = _sympy()
    if name == "log10":
        return sp.log(argument) / sp.log(10)
    if name == "log2":
        return sp.log(argument) / sp.log(2)
    function = getattr(sp, {"ln": "log", "abs": "Abs"}.get(name, name), None)
    if function is None or name not in _CALLS:
        raise NotSolved(name)
    return function(argument)


_CALLS = {"sin", "cos", "tan", "asin", "acos", "atan", "sinh", "cosh", "tanh", "ln", "exp", "abs"}


def from_sympy(value: Any) -> Expr:
    """A SymPy expression as one of our trees. Raises NotSolved for what a school calculation cannot hold."""
    sp = _sympy()
    if value.is_Symbol:
        return Symbol(name=str(value.name), known=True)
    if value is sp.pi:
        return Symbol(name="π", known=True)
    if value is sp.E:
        return Call(function="exp", inner=_integer(1))
    if value.is_Integer:
        return _integer(int(value)) if value >= 0 else Negative(inner=_integer(-int(value)))
    if value.is_Rational:
        inner = Quotient(over=_integer(abs(int(value.p))), under=_integer(int(value.q)))
        return inner if value > 0 else Negative(inner=inner)
    if value.is_Float:
        return Number(text=str(value), value=float(value))
    if value.is_Add:
        return Sum(terms=tuple(from_sympy(t) for t in value.as_ordered_terms()))
    if value.is_Mul:
        return _product(value)
    if value.is_Pow:
        return _power(value)
    if value.is_Function:
        name = {"log": "ln", "Abs": "abs"}.get(type(value).__name__, type(value).__name__)
        if name in _CALLS:
            return Call(function=name, inner=from_sympy(value.args[0]))
    raise NotSolved(str(type(value).__name__))


def _integer(value: int) -> Number:
    return Number(text=str(value), value=float(value))


def _power(value: Any) -> Expr:
    base, exponent = value.as_base_exp()
    sp = _sympy()
    if base is sp.E:
        return Call(function="exp", inner=from_sympy(exponent))
    if exponent.is_Rational and exponent.q != 1 and exponent.p in (1, -1):
        root = Root(inner=from_sympy(base), degree=int(exponent.q))
        return root if exponent.p == 1 else Quotient(over=_integer(1), under=root)
    if exponent.is_Integer and exponent < 0:
        under = from_sympy(base) if exponent == -1 else Power(base=from_sympy(base), exponent=_integer(-int(exponent)))
        return Quotient(over=_integer(1), under=under)
    return Power(base=from_sympy(base), exponent=from_sympy(exponent))


def _product(value: Any) -> Expr:
    sp = _sympy()
    if value.could_extract_minus_sign():
        return Negative(inner=from_sympy(-value))
    over, under = sp.fraction(value)
    if under == 1:
        return Product(factors=tuple(from_sympy(f) for f in over.as_ordered_factors()))
    return Quotient(over=from_sympy(over), under=from_sympy(under))


@lru_cache(maxsize=1024)
def raised(tree: Expr, power: int) -> Any:
    """A power of a tree, its letters taken as positive, as a SymPy expression of our own letters. Raises NotSolved."""
    sp = _sympy()
    value = to_sympy(tree)
    positive = {s: sp.Symbol(s.name, positive=True) for s in value.free_symbols}
    back = {p: s for s, p in positive.items()}
    return sp.simplify(sp.powdenest(value.subs(positive) ** power, force=True)).subs(back)


@lru_cache(maxsize=4096)
def solve_for(equation: Equation, name: str) -> tuple[Expr, ...]:
    """Every closed form of one letter of an equation, simplest first. Raises NotSolved when there is none."""
    return tuple(branch[0] for branch in solve_together((equation,), (name,)))


@lru_cache(maxsize=1024)
def solve_together(equations: tuple[Equation, ...], names: tuple[str, ...]) -> tuple[tuple[Expr, ...], ...]:
    """Branches of the joint solution in the real numbers, the shortest first: for each, one tree per name. Raises NotSolved.

    The commonest kinds are solved without SymPy, and so are cubes and other powers, as a person undoes them.
    """
    alone: tuple[Expr, ...] | None = None
    if len(equations) == len(names) == 1:
        alone = undone(equations[0], names[0]) if beyond_squares(equations[0], names[0]) else isolated(equations[0], names[0])
    branches = tuple((tree,) for tree in alone) if alone else together_by_sympy(equations, names)
    return tuple(sorted(branches, key=lambda trees: sum(1 for tree in trees for _ in walk(tree))))


def together_by_sympy(equations: tuple[Equation, ...], names: tuple[str, ...]) -> tuple[tuple[Expr, ...], ...]:
    """The real branches in SymPy's order. Raises NotSolved when there is none."""
    branches = tuple(b for b in (_branch(one, names) for one in _solutions(equations, names)) if b is not None)
    if not branches:
        raise NotSolved(", ".join(names))
    return branches


def _solutions(equations: tuple[Equation, ...], names: tuple[str, ...]) -> list[dict[Any, Any]]:
    sp = _sympy()
    try:
        found: list[dict[Any, Any]] = sp.solve([to_sympy(a) - to_sympy(b) for a, b in equations], [letter(n) for n in names], dict=True)
    except (NotImplementedError, TypeError, ValueError, AttributeError) as error:
        raise NotSolved(str(error)) from error
    return found


def _branch(solution: dict[Any, Any], names: tuple[str, ...]) -> tuple[Expr, ...] | None:
    """One solution as trees; None where it leaves a letter open or is not real."""
    sp = _sympy()
    values = [solution.get(letter(n)) for n in names]
    if any(v is None or v.has(sp.I) for v in values):
        return None
    try:
        return tuple(from_sympy(sp.simplify(v)) for v in values)
    except (NotSolved, NotImplementedError, TypeError, ValueError, AttributeError):
        return None


@lru_cache(maxsize=20_000)
def follows(statement: Equation, solved: tuple[tuple[str, Expr], ...]) -> bool | None:
    """Whether an equation is an identity once the solved letters are put in, in order; None when it cannot be told.

    Told from values to fifty figures, and by SymPy where there are none.
    """
    told = identical(statement, solved)
    return follows_by_sympy(statement, solved) if told is None else told


def follows_by_sympy(statement: Equation, solved: tuple[tuple[str, Expr], ...]) -> bool | None:
    sp = _sympy()
    try:
        difference = to_sympy(statement[0]) - to_sympy(statement[1])
        for name, tree in solved:
            difference = difference.subs(letter(name), to_sympy(tree))
        positive = {s: sp.Symbol(s.name, positive=True) for s in difference.free_symbols}
        return bool(sp.simplify(difference.subs(positive)) == 0)
    except (NotSolved, TypeError, ValueError, AttributeError, RecursionError):
        return None
