"""Laws of reading: a tree written in any notation is read back; nothing typed raises; bounds hold; memory changes nothing."""

from __future__ import annotations

import random
from collections.abc import Callable

import pytest
from hypothesis import given, seed, settings
from hypothesis import strategies as st

from marker.expression import Call, Expr, Negative, Number, Power, Product, Quotient, Root, Sum, Symbol, UnitFactor
from marker.physics.units import unit_named
from marker.reading import read_lines, write_mathml, write_plain
from marker.reading.model import Line, Statement, SymbolEntry, SymbolTable

LETTERS = ("F", "B", "q", "v", "r", "θ", "λ", "k", "Q", "n")
TABLE = SymbolTable(tuple(SymbolEntry(name=x) for x in LETTERS))
SUPERSCRIPTS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


# ---- trees -----------------------------------------------------------------------------------------------------------

numbers = st.builds(
    lambda whole, places: Number(text=f"{whole}.{places}", value=float(f"{whole}.{places}")),
    st.integers(1, 99),
    st.sampled_from(("0", "5", "25", "8", "61", "375")),
)
letters = st.sampled_from(LETTERS).map(lambda name: Symbol(name=name, known=True))
quantities = st.builds(
    lambda number, unit: Product(factors=(number, UnitFactor(unit=unit_named(unit)))),
    numbers,
    st.sampled_from(("m/s", "kg", "N", "m", "kPa", "J kg^-1 K^-1")),
)
atoms = st.one_of(letters, numbers, quantities)


def branches(inner: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
    return st.one_of(
        st.lists(inner, min_size=2, max_size=3).map(lambda parts: Sum(terms=tuple(_flat(parts, Sum)))),
        st.lists(inner, min_size=2, max_size=3).map(lambda parts: Product(factors=tuple(_flat(parts, Product)))),
        st.builds(lambda a, b: Quotient(over=a, under=b), inner, inner),
        st.builds(lambda a, n: Power(base=a, exponent=Number(text=str(n), value=float(n))), inner, st.integers(2, 4)),
        st.builds(lambda a: Root(inner=a), inner),
        st.builds(lambda f, a: Call(function=f, inner=a), st.sampled_from(("sin", "cos", "tan", "ln")), inner),
        st.builds(lambda a, b: Sum(terms=(a, Negative(inner=b))), inner, inner),
    )


def _flat(parts: list[Expr], kind: type) -> list[Expr]:
    """Brackets leave no trace in a sum of sums: nested ones are not generated."""
    return [
        p.over if isinstance(p, Quotient) and kind is Product else (p if not isinstance(p, kind) or _is_quantity(p) else _first(p))
        for p in parts
    ]


def _first(node: Expr) -> Expr:
    part = node.terms[0] if isinstance(node, Sum) else node.factors[0]  # type: ignore[attr-defined]
    return _first(part) if isinstance(part, Sum | Product) and not _is_quantity(part) else part


def _is_quantity(node: Expr) -> bool:
    return isinstance(node, Product) and isinstance(node.factors[-1], UnitFactor)


trees = st.recursive(atoms, branches, max_leaves=7)


# ---- writing in a random notation ------------------------------------------------------------------------------------


class Notation:
    """One candidate's way of typing: chosen at random once, kept throughout."""

    def __init__(self, choose: random.Random) -> None:
        self.times = choose.choice((" × ", "×", "*", " * ", " x "))
        self.over = choose.choice(("/", " / ", " ÷ "))
        self.space = choose.choice(("", " "))
        self.power: Callable[[str], str] = choose.choice(
            (lambda p: "^" + p, lambda p: p.translate(SUPERSCRIPTS), lambda p: f"^({p})", lambda p: "**" + p)
        )
        self.root = choose.choice(("√({})", "sqrt({})", "SQRT({})", r"\sqrt{{{}}}"))
        self.brackets = choose.choice(("()", "()", "[]"))
        self.minus = choose.choice(("-", "−", " - ", " – "))
        self.plus = choose.choice(("+", " + "))
        self.unit = choose.choice(
            ("m/s|N|kg|m|kPa|J/(kg K)", "m s^-1|N|kg|m|kPa|J kg^-1 K^-1", "m s⁻¹|newtons|kg|metres|kPa|J kg⁻¹ K⁻¹")
        ).split("|")

    def bracket(self, text: str) -> str:
        return self.brackets[0] + text + self.brackets[1]

    def write(self, node: Expr) -> str:
        match node:
            case Number():
                return node.text
            case Symbol():
                return node.name
            case Sum(terms=terms):
                out = self.term(terms[0])
                for term in terms[1:]:
                    out += self.minus + self.term(term.inner) if isinstance(term, Negative) else self.plus + self.term(term)
                return out
            case Product(factors=(number, UnitFactor(unit=unit))):
                names = ("m s⁻¹", "N", "kg", "m", "kPa", "J kg⁻¹ K⁻¹")
                return f"{self.write(number)} {self.unit[names.index(unit.name)]}"
            case Product(factors=factors):
                return self.times.join(self.factor(f) for f in factors)
            case Quotient(over=over, under=under):
                return self.factor(over) + self.over + self.factor(under)
            case Power(base=base, exponent=exponent):
                return self.base(base) + self.power(self.write(exponent))
            case Root(inner=inner):
                return self.root.format(self.write(inner))
            case Call(function=name, inner=inner):
                return f"{name}({self.write(inner)})"
        raise AssertionError(node)

    def term(self, node: Expr) -> str:
        return self.bracket(self.write(node)) if isinstance(node, Sum) else self.write(node)

    def factor(self, node: Expr) -> str:
        return self.bracket(self.write(node)) if isinstance(node, Sum | Quotient | Product) else self.write(node)

    def base(self, node: Expr) -> str:
        return self.write(node) if isinstance(node, Symbol) else self.bracket(self.write(node))


@seed(20261125)
@settings(max_examples=600, deadline=None)
@given(trees, st.randoms(use_true_random=False))
def test_a_tree_written_in_any_notation_is_read_back_first(tree: Expr, choose: random.Random) -> None:
    typed = "W = " + Notation(choose).write(tree)
    line = read_lines([typed], TABLE)[0]
    assert not line.unread, typed
    assert len(line.statements) == 1, typed
    assert _values(line.statements[0].readings[0].sides[1]) == _values(tree), typed


def _values(node: Expr) -> Expr:
    """The tree with numbers stripped to text and value, so that places shown and figures do not matter."""
    match node:
        case Number():
            return Number(text="", value=node.value)
        case Product(factors=f):
            return Product(factors=tuple(map(_values, f)))
        case Sum(terms=t):
            return Sum(terms=tuple(map(_values, t)))
        case Quotient(over=a, under=b):
            return Quotient(over=_values(a), under=_values(b))
        case Power(base=a, exponent=b):
            return Power(base=_values(a), exponent=_values(b))
        case Negative(inner=a):
            return Negative(inner=_values(a))
        case Root(inner=a, degree=d):
            return Root(inner=_values(a), degree=d)
        case Call(function=n, inner=a):
            return Call(function=n, inner=_values(a))
    return node


@seed(20261125)
@settings(max_examples=300, deadline=None)
@given(trees)
def test_what_is_written_out_plain_is_read_back_among_the_readings(tree: Expr) -> None:
    typed = write_plain(tree)
    line = read_lines(["W = " + typed], TABLE)[0]
    assert line.statements, typed
    wanted = _values(tree)
    found = [_values(r.sides[1]) for s in line.statements for r in s.readings if len(r.sides) == 2]
    assert wanted in found, typed
    assert write_mathml(tree).startswith("<math ")


JUXTAPOSED = (
    ("F = qvB", "F = q*v*B"),
    ("r = nv/Bq", "r = (n*v)/(B*q)"),
    ("F=kQq/r²", "F = (k*Q*q)/r^2"),
    ("½kr²", "(1/2)*k*r^2"),
    ("Bqv sinθ", "B*q*v*sin(θ)"),
    ("2qvcosθ", "2*q*v*cos(θ)"),
    ("√2kr", "sqrt(2*k*r)"),
    ("k(Q-q)/r", "(k*(Q-q))/r"),
)


@pytest.mark.parametrize(("short", "long"), JUXTAPOSED, ids=[j[0] for j in JUXTAPOSED])
def test_letters_side_by_side_mean_what_the_signs_say(short: str, long: str) -> None:
    def sides(text: str) -> list[str]:
        return [write_plain(s).replace("(1/2)", "½") for s in read_lines([text], TABLE)[0].statements[0].readings[0].sides]

    assert sides(short) == sides(long)


# ---- anything typed --------------------------------------------------------------------------------------------------

FRAGMENTS = st.sampled_from(
    [
        *"=+-×*/^_()[]{}√½².,;:?!%°'\"|±≈∝→∴⇒…$\\xeEFaITθπμΩΔ∞٣４é漢🙂\t\u0307\u20d7\u200b",
        *(
            "~~",
            "⁻¹",
            "₀",
            "\\frac",
            "\\sqrt{",
            "\\text{",
            "10",
            "3.2",
            "0",
            "6.63x10-34",
            "1e999",
            "1e-999",
            "9^9^9^9",
            "(20, 7.4)",
            "1,234.5",
            "27,6",
        ),
        *(
            "sin",
            "cos",
            "ln",
            "log",
            "exp",
            "m",
            "s",
            "kg",
            "N",
            "Pa",
            "m/s",
            "ms-1",
            "mm Hg",
            "kWh",
            "per",
            "root",
            "half",
            "squared",
            "times",
            "over",
        ),
        *(
            "is",
            "equals",
            "so",
            "therefore",
            "or",
            "and",
            "no wait",
            "scrap that",
            "ignore all above",
            "the",
            "of",
            "i)",
            "(ii)",
            "Ans:",
            "==",
            "<=",
            "->",
        ),
        *("ma", "BILsinθ", "v2", "v_0", "v_{", "delta", "sinθ1", "net F_y", "x38+273/12+273"),
    ]
)
anything = st.one_of(st.text(max_size=60), st.lists(FRAGMENTS, max_size=14).map("".join), st.lists(FRAGMENTS, max_size=14).map(" ".join))


def test_reading_never_raises_and_stays_within_bounds() -> None:
    reached = {"statements": 0, "unread": 0}

    @seed(20261125)
    @settings(max_examples=800, deadline=None)
    @given(anything)
    def law(typed: str) -> None:
        line = read_lines([typed], TABLE)[0]
        assert isinstance(line, Line) and line.text == typed and line.number == 1
        for statement in line.statements:
            _within_bounds(statement, typed)
            reached["statements"] += 1
        for fragment in line.unread:
            assert fragment.why and 0 <= fragment.at[0] <= fragment.at[1] <= len(typed)
            reached["unread"] += 1

    law()
    assert reached["statements"] >= 200 and reached["unread"] >= 50


def _within_bounds(statement: Statement, typed: str) -> None:
    assert 1 <= len(statement.readings) <= 16
    assert min(r.cost for r in statement.readings) >= 0
    start, end = statement.at
    assert 0 <= start <= end <= len(typed)
    for reading in statement.readings:
        assert len(reading.sides) == len(reading.relations) + 1
        for side in reading.sides:
            assert write_plain(side) and write_mathml(side)


@seed(20261125)
@settings(max_examples=100, deadline=None)
@given(st.lists(anything, max_size=6))
def test_whole_responses_never_raise_and_keep_their_lines(lines: list[str]) -> None:
    read = read_lines(lines, TABLE)
    assert [line.text for line in read] == lines
    assert [line.number for line in read] == list(range(1, len(lines) + 1))
    assert read == read_lines(list(lines), TABLE)


PIECES = (
    *("(", "1 ", "a=", "1,", "x10", "%", "- ", "ms-1", "=", "1.", "1·", "sin ", "^", "v2", "kg ", "kg/", "a=1 ", "√", "root ", "times "),
    *("1/", "\\frac{", "{", "|", "~~", "_a", "'", "±", "…", "1 000 ", "10-", "10^", "e^", "half ", "no wait ", "(ii) ", "A.", "m/s ", "x"),
    *("\\text{", "〖", "F=ma ", "1:", "?", "i) ", "mm Hg ", "per ", "is ", "= is ", "2x3", "1e", "million ", "(a,b)", "sinθ1", "p.d. "),
)


@pytest.mark.parametrize("piece", PIECES)
@pytest.mark.parametrize("length", [550, 1990])
def test_one_piece_many_times_is_borne(piece: str, length: int) -> None:
    """Longest lines of one thing repeated: every reading is made, none raises, the bounds hold."""
    typed = (piece * length)[:length]
    for text in (typed, "F = " + typed, typed + " = 5"):
        for statement in read_lines([text[:2000]], TABLE)[0].statements:
            assert 1 <= len(list(statement.readings)) <= 16
