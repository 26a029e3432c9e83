"""A letter isolated without SymPy, where a relationship is a product or a plain sum: F = ma, v² = 2as, V = ε − Ir, E = φ + E_k.

Most relationships of school physics are of this kind, and SymPy takes a quarter of a second to be imported and some hundredths
for each. The trees are those that SymPy's `solve` and `simplify` would give, term for term (a test compares them over every
relationship of the sheets); where that cannot be said beforehand the answer is None, and SymPy is asked.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from marker.expression import Call, Expr, Negative, Number, Power, Product, Quotient, Root, Sum, Symbol

Equation = tuple[Expr, Expr]
MOST_TERMS = 6
PI = Symbol(name="π", known=True)


@dataclass(frozen=True, slots=True)
class Monomial:
    """A number times whole powers of letters (and of sin θ, cos θ): `powers` holds no nought."""

    number: Fraction
    powers: Mapping[Expr, int]

    def times(self, other: Monomial, sign: int = 1) -> Monomial:
        """The product; the quotient with sign −1."""
        powers = dict(self.powers)
        for atom, n in other.powers.items():
            powers[atom] = powers.get(atom, 0) + sign * n
        number = self.number * other.number if sign > 0 else self.number / other.number
        return Monomial(number, {atom: n for atom, n in powers.items() if n})

    def without(self, atoms: Iterable[Expr]) -> Monomial:
        return Monomial(self.number, {atom: n for atom, n in self.powers.items() if atom not in atoms})


ONE = Monomial(Fraction(1), {})


class _Other(Exception):
    """Not of the kind that is isolated here."""


def isolated(equation: Equation, name: str) -> tuple[Expr, ...] | None:
    """Every branch of one letter of an equation, as SymPy orders and writes them; None where SymPy must be asked."""
    try:
        terms = [*_terms(equation[0]), *(_negated(t) for t in _terms(equation[1]))]
        return _branches(terms, Symbol(name=name, known=True))
    except (_Other, ZeroDivisionError, OverflowError, ValueError):
        return None


def _branches(terms: list[Monomial], letter: Symbol) -> tuple[Expr, ...]:
    """The branches where just one term holds the letter, alone, squared or inside a sine."""
    holding = [t for t in terms if any(letter in (atom, _inside(atom)) for atom in t.powers)]
    others = [t for t in terms if t not in holding]
    if len(holding) != 1 or not others or len(terms) > MOST_TERMS:
        raise _Other
    held = [(atom, n) for atom, n in holding[0].powers.items() if letter in (atom, _inside(atom))]
    if len(held) != 1:
        raise _Other
    (atom, power), factor = held[0], holding[0].without((held[0][0],))
    if isinstance(atom, Call):
        return _angles(atom, power, [_negated(t) for t in others], factor)
    if power == 2:
        return _roots([_negated(t) for t in others], factor)
    if power == -1 and len(others) == 1:
        return (_tree(factor.times(_negated(others[0]), -1)),)
    if power != 1:
        raise _Other
    return (_quotient([_negated(t) for t in others], factor),)


def _quotient(terms: list[Monomial], under: Monomial) -> Expr:
    """The sum of the terms over a monomial, as SymPy writes it."""
    if len(terms) == 1:
        return _tree(terms[0].times(under, -1))
    if under.number < 0:
        terms, under = [_negated(t) for t in terms], _negated(under)
    if under.number.denominator != 1 or any(n < 0 for n in under.powers.values()):
        raise _Other
    common = [atom for atom in terms[0].powers if all(atom in t.powers for t in terms[1:])]
    if any(t.powers[a] != 1 for t in terms for a in common) or (common and under.powers):
        raise _Other
    rest = [t.without(common) for t in terms]
    seen: set[Expr] = set(under.powers)
    for term in rest:
        if not term.powers or abs(term.number) != 1 or any(n < 1 for n in term.powers.values()) or seen & term.powers.keys():
            raise _Other  # terms that share a letter, or have numbers, SymPy may write in several ways
        seen |= term.powers.keys()
    total = Sum(terms=tuple(_tree(t) for t in sorted(rest, key=lambda t: min(map(_order, t.powers)))))
    if common:
        if under.number != 1:
            raise _Other
        return Product(factors=(*_factors(Monomial(Fraction(1), dict.fromkeys(common, 1))), total))
    if under == ONE:
        return total
    return Quotient(over=total, under=_tree(under))


def _roots(terms: list[Monomial], under: Monomial) -> tuple[Expr, ...]:
    """Both branches of x² = M and x² = 2M, where M has no square in it that SymPy would take out of the root."""
    if len(terms) != 1:
        raise _Other
    square = terms[0].times(under, -1)
    if square.number not in (1, 2) or any(abs(n) != 1 or atom == PI for atom, n in square.powers.items()):
        raise _Other
    root: Expr = Root(inner=_tree(Monomial(Fraction(1), square.powers)))
    if square.number == 2:
        root = Product(factors=(Root(inner=_whole(2)), root))
    return (Negative(inner=root), root)


def _angles(sine: Call, power: int, terms: list[Monomial], under: Monomial) -> tuple[Expr, ...]:
    """Both angles of a sine that is one product."""
    if sine.function != "sin" or abs(power) != 1 or len(terms) != 1:
        raise _Other
    size = terms[0].times(under, -1)
    if size.number < 0:
        raise _Other
    angle = Call(function="asin", inner=_tree(size if power == 1 else ONE.times(size, -1)))
    return (Sum(terms=(PI, Negative(inner=angle))), angle)


def _terms(node: Expr) -> list[Monomial]:
    match node:
        case Sum(terms=parts):
            return [m for part in parts for m in _terms(part)]
        case Negative(inner=inner):
            return [_negated(m) for m in _terms(inner)]
    return [_monomial(node)]


def _monomial(node: Expr) -> Monomial:
    match node:
        case Number(value=v):
            return Monomial(Fraction(repr(v)), {})
        case Symbol(name=name):
            return Monomial(Fraction(1), {Symbol(name=name, known=True): 1})
        case Negative(inner=inner):
            return _negated(_monomial(inner))
        case Product(factors=parts):
            out = ONE
            for part in parts:
                out = out.times(_monomial(part))
            return out
        case Quotient(over=over, under=under):
            return _monomial(over).times(_monomial(under), -1)
        case Power(base=base, exponent=Number(value=n)) if n in (2.0, 3.0, 4.0):
            inside = _monomial(base)
            return Monomial(inside.number ** int(n), {atom: p * int(n) for atom, p in inside.powers.items()})
        case Call(function="sin" | "cos" as function, inner=Symbol(name=name)):
            return Monomial(Fraction(1), {Call(function=function, inner=Symbol(name=name, known=True)): 1})
    raise _Other


def _negated(term: Monomial) -> Monomial:
    return Monomial(-term.number, term.powers)


def _inside(atom: Expr) -> Expr | None:
    return atom.inner if isinstance(atom, Call) else None


def _tree(term: Monomial) -> Expr:
    """A monomial as one fraction, its sign before it."""
    if term.number < 0:
        return Negative(inner=_tree(_negated(term)))
    over = Monomial(Fraction(term.number.numerator), {a: n for a, n in term.powers.items() if n > 0})
    under = Monomial(Fraction(term.number.denominator), {a: -n for a, n in term.powers.items() if n < 0})
    return _joined(over) if under == ONE else Quotient(over=_joined(over), under=_joined(under))


def _joined(term: Monomial) -> Expr:
    factors = _factors(term)
    return factors[0] if len(factors) == 1 else Product(factors=tuple(factors))


def _factors(term: Monomial) -> list[Expr]:
    """The number first unless it is 1, then π, then letters by name, then sines."""
    number = [_whole(int(term.number))] if term.number != 1 or not term.powers else []
    powers = sorted(term.powers.items(), key=lambda item: _order(item[0]))
    return [*number, *(atom if n == 1 else Power(base=atom, exponent=_whole(n)) for atom, n in powers)]


def _order(atom: Expr) -> tuple[int, str, str]:
    if isinstance(atom, Call):
        return (2, atom.function, atom.inner.name if isinstance(atom.inner, Symbol) else "")
    assert isinstance(atom, Symbol)
    return (0 if atom == PI else 1, atom.name, "")


def _whole(value: int) -> Number:
    return Number(text=str(value), value=float(value))
