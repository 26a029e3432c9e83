"""Laws of reading where signs were left out or anything at all was typed. Each law counts the draws that reached its assertion."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, seed, settings
from hypothesis import strategies as st

from marker.expression import Expr, Number, Power, Product, Quotient, Symbol, walk
from marker.reading import read_lines, write_plain
from marker.reading.model import SymbolEntry, SymbolTable

LETTERS = ("F", "B", "q", "v", "r", "k", "Q", "E")
TABLE = SymbolTable(tuple(SymbolEntry(name=x) for x in LETTERS))
SEED = 20261125

powers = st.sampled_from((1, 1, 2, 3))
factors = st.lists(st.tuples(st.sampled_from(LETTERS), powers), min_size=1, max_size=3, unique_by=lambda f: f[0])


def tree_of(parts: list[tuple[str, int]]) -> Expr:
    made: list[Expr] = []
    for name, power in parts:
        letter = Symbol(name=name, known=True)
        made.append(letter if power == 1 else Power(base=letter, exponent=Number(text=str(power), value=float(power))))
    return made[0] if len(made) == 1 else Product(factors=tuple(made))


def typed_of(parts: list[tuple[str, int]], raised: str) -> str:
    return "".join(name + ("" if power == 1 else raised + str(power)) for name, power in parts)


def bare(node: Expr) -> str:
    """The tree as text: numbers by value only, since a lost power and a typed one differ in nothing else."""
    return write_plain(node)


def test_letters_side_by_side_over_letters_side_by_side() -> None:
    """mv²/Bq and its like, superscripts kept or lost: what is written together after the solidus is below it, first or listed."""
    reached: Counter[str] = Counter()

    @seed(SEED)
    @settings(max_examples=400, deadline=None)
    @given(factors, factors, st.sampled_from(("^", "")))
    def law(over: list[tuple[str, int]], under: list[tuple[str, int]], raised: str) -> None:
        typed = f"W = {typed_of(over, raised)}/{typed_of(under, raised)}"
        wanted = bare(Quotient(over=tree_of(over), under=tree_of(under)))
        statement = read_lines([typed], TABLE)[0].statements[0]
        found = [bare(r.sides[1]) for r in statement.readings]
        assert wanted in (found if raised == "" else found[:1]), typed
        reached["lost" if raised == "" else "kept"] += 1

    law()
    assert min(reached["lost"], reached["kept"]) >= 100


def test_standard_form_with_its_superscript_lost() -> None:
    """6.63x10-34, 2.5 x 10 6: a mantissa with a point or a negative power is standard form first."""
    reached: Counter[str] = Counter()

    @seed(SEED)
    @settings(max_examples=300, deadline=None)
    @given(st.integers(100, 999), st.integers(-34, 29).filter(lambda n: abs(n) > 2), st.sampled_from(("x10", " x 10", "×10", "*10")))
    def law(digits: int, power: int, times: str) -> None:
        mantissa = f"{digits / 100:.2f}"
        typed = f"W = {mantissa}{times}{power}"
        reading = read_lines([typed], TABLE)[0].statements[0].readings[0]
        numbers = [n for n in walk(reading.sides[1]) if isinstance(n, Number)]
        assert [n.value for n in numbers] == [pytest.approx(float(f"{mantissa}e{power}"))], typed
        reached["negative" if power < 0 else "positive"] += 1

    law()
    assert min(reached.values()) >= 50 and len(reached) == 2


UNPLEASANT = st.one_of(
    st.binary(max_size=80).map(lambda b: b.decode("latin-1")),
    st.binary(max_size=80).map(lambda b: b.decode("utf-8", errors="surrogateescape")),
    st.text(alphabet=st.characters(min_codepoint=0x1F000, max_codepoint=0x1FAFF), max_size=40),
    st.integers(1, 900).map(lambda n: "(" * n + "3" + ")" * n),
    st.integers(1, 900).map(lambda n: "√(" * n + "x"),
    st.integers(1, 900).map(lambda n: "v = " + "[{" * n),
    st.sampled_from(("a", "9", "=", "x ", "1/", "^2", "é", "∑", "\ud800", "\x00")).map(lambda c: (c * 10_000)[:10_000]),
)


def test_anything_at_all_is_borne() -> None:
    """Bytes, emoji, ten thousand characters, deep brackets: a line comes back with its text, and what is unread says why."""
    reached: Counter[str] = Counter()

    @seed(SEED)
    @settings(max_examples=400, deadline=None)
    @given(UNPLEASANT)
    def law(typed: str) -> None:
        line = read_lines([typed], TABLE)[0]
        assert line.text == typed
        assert all(f.why for f in line.unread)
        for statement in line.statements:
            assert 1 <= len(list(statement.readings)) <= 16
            reached["statements"] += 1
        reached["lines"] += 1
        reached["long"] += len(typed) >= 10_000

    law()
    assert reached["lines"] >= 300 and reached["statements"] >= 30 and reached["long"] >= 5
