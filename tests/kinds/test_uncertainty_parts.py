"""Uncertainty parts: invented readings, typed working, points expected.

"Resistor" is the neutral example of conventions file 1.4 (recomputed there: 1.33 % and 3.33 %; 3.59 % and 0.18 Ω, 4.67 % and 0.23 Ω,
3.33 % and 0.17 Ω by the three rules). Row 42 of section 6 documents the power that is not multiplied. Other rows are common practice, no
source, with the numbers worked by hand.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import SchemeError
from marker.kinds.uncertainty.compiled import UncertaintyPart, compile_uncertainty
from marker.kinds.uncertainty.mark import KIND, mark_uncertainty, model_uncertainty
from marker.kinds.uncertainty.spec import UncertaintySpec
from marker.results import PartResult
from marker.scheme.convention import Convention

ROOT, SUM, LARGEST = "root sum of squares", "sum", "largest"
NEUTRAL = "conventions file 1.4, neutral resistor example"
ROW42 = "conventions file section 6, row 42"
COMMON = "common practice, no source"

SCHEMES = {
    "resistor": """
        name = "r1"
        marks = 4
        quantities = { V = "(7.5 ± 0.1) V", I = "(1.50 ± 0.05) A" }
        find = "R"
        using = "R = V/I"
        unit = "Ω"
        names = ["resistance"]
        """,
    "energy": """
        name = "e1"
        marks = 4
        quantities = { m = "(0.250 ± 0.005) kg", v = { value = "3.2 m/s", uncertainty = "0.1 m/s" } }
        find = "E"
        using = "E = 1/2*m*v^2"
        unit = "J"
        """,
    "energy in steps": """
        name = "e2"
        marks = 4
        quantities = { m = "(0.250 ± 0.005) kg", v = "(3.2 ± 0.1) m/s" }
        find = "E"
        using = "E = 1/2*m*v^2"
        unit = "J"
        points = ["percentages", "powers", "combined", "absolute"]
        """,
    "energy followed": """
        name = "e3"
        marks = 4
        quantities = { m = "(0.250 ± 0.005) kg", v = "(3.2 ± 0.1) m/s" }
        find = "E"
        using = "E = 1/2*m*v^2"
        unit = "J"
        combined_follows = true
        points = ["percentages", "powers", "combined", "absolute"]
        """,
    "energy, rule followed": """
        name = "e4"
        marks = 4
        quantities = { m = "(0.250 ± 0.005) kg", v = "(3.2 ± 0.1) m/s" }
        find = "E"
        using = "E = 1/2*m*v^2"
        unit = "J"
        rule_follows = true
        points = ["percentages", "powers", "combined", "absolute"]
        """,
    "block": """
        name = "b1"
        marks = 4
        quantities = { a = "(42.0 ± 0.3) mm", b = "(25.0 ± 0.5) mm", c = "(50.0 ± 0.2) mm" }
        find = "V"
        using = "V = a*b*c"
        unit = "mm^3"
        """,
    "extension": """
        name = "x1"
        marks = 2
        quantities = { a = "(85.0 ± 0.5) mm", b = "(62.0 ± 0.5) mm" }
        find = "x"
        using = "x = a - b"
        unit = "mm"
        names = ["extension"]
        """,
    "period": """
        name = "t1"
        marks = 3
        find = "T"
        unit = "s"
        [quantities.T]
        readings = ["2.31", "2.35", "2.28", "2.33", "2.33"]
        unit = "s"
        names = ["period"]
        """,
    "ratio": """
        name = "q1"
        marks = 3
        quantities = { V = "(7.5 ± 0.1) V", I = "(1.50 ± 0.05) A" }
        find = "R"
        using = "R = V/I"
        unit = "Ω"
        ask = "percentage"
        """,
    "fall": """
        name = "g1"
        marks = 3
        quantities = { L = "(1.000 ± 0.002) m", T = "(2.01 ± 0.02) s" }
        find = "g"
        using = "g = 4*π^2*L/T^2"
        unit = "m/s^2"
        accepted = "9.81 m/s^2"
        points = ["combination", "absolute", "comparison"]
        """,
    "density": """
        name = "d1"
        marks = 4
        quantities = { m = "(8.05 ± 0.06) kg", a = "(14.82 ± 0.24) cm" }
        find = "ρ"
        using = "ρ = m/a^3"
        unit = "kg/m^3"
        combined_within = ["5.5 %", "5.7 %"]
        combined_follows = false
        within = ["135 kg/m^3", "142 kg/m^3"]
        points = ["percentages", "powers", "combined", "absolute"]
        rulings = { uncertainty_rule = "sum" }
        """,
    "wire": """
        name = "w1"
        marks = 4
        quantities = { d = { value = "0.36 mm", scale = "digital", names = ["diameter"] } }
        find = "A"
        using = "A = π*d^2/4"
        unit = "mm^2"
        points = ["percentages", "combined", "absolute", "value"]
        """,
}


@lru_cache
def part(name: str, rule: str = ROOT, **rulings: str) -> UncertaintyPart:
    convention = Convention.model_validate({"uncertainty_rule": rule, **rulings})
    return compile_uncertainty(UncertaintySpec(**tomllib.loads(SCHEMES[name])), convention)


def points(result: PartResult) -> str:
    return "".join(str(int(a.mark)) for a in result.awards)


@dataclass(frozen=True)
class Row:
    scheme: str
    typed: str
    expected: str
    source: str
    rule: str = ROOT
    fault: str = ""

    def __str__(self) -> str:
        return f"{self.scheme} by {self.rule}: {self.typed[:40]!r}"


STEPS = "0.1/7.5 = 1.33%\n0.05/1.5 = 3.33%\n"
TABLE = (
    Row("resistor", STEPS + "sqrt(1.33^2+3.33^2) = 3.59%\n3.59% of 5.0 = 0.18 ohms", "1111", NEUTRAL),
    Row("resistor", STEPS + "1.33+3.33 = 4.67%\n4.67% of 5.0 = 0.23 Ω", "1111", NEUTRAL, SUM),
    Row("resistor", STEPS + "the largest is 3.33 %\n3.33% of 5.0 = 0.17 Ω", "1111", NEUTRAL, LARGEST),
    Row("resistor", "R = 5.0 ± 0.2 Ω", "1111", NEUTRAL + ": all rules agree at one figure"),
    Row("resistor", "R = 5.0 ± 0.2 Ω", "1111", NEUTRAL + ": all rules agree at one figure", SUM),
    Row("resistor", "R = 5.0 ± 0.2 Ω", "1111", NEUTRAL + ": all rules agree at one figure", LARGEST),
    Row("resistor", STEPS + "1.33+3.33 = 4.67%\n4.67% of 5.0 = 0.23 Ω", "1000", NEUTRAL, ROOT, "uncertainties-added"),
    Row("resistor", STEPS + "sqrt(1.33^2+3.33^2) = 3.59%\nso 0.18 Ω", "1000", NEUTRAL, SUM, "uncertainties-squared"),
    Row("resistor", STEPS + "3.33% of 5.0 = 0.17 Ω", "1000", NEUTRAL, ROOT, "uncertainty-largest-only"),
    Row("resistor", STEPS + "adding gives 4.67%. so 0.23 Ω", "1000", NEUTRAL, LARGEST, "uncertainties-added"),
    Row("resistor", "%V=1.3, %I=3.3, total = √(1.3²+3.3²)=3.55 %\nΔR=0.0355*5=0.18Ω", "1111", COMMON),
    Row("resistor", "ΔR/R = √((0.1/7.5)² + (0.05/1.50)²)\nΔR = 5.0 × 0.0359 = 0.18 Ω", "1111", "fractions, " + COMMON),
    Row("resistor", "(ΔR/R)² = (0.1/7.5)² + (0.05/1.50)² = 0.00129\nΔR/R = 0.0359\nΔR = 0.18 Ω", "1111", "squares first, " + COMMON),
    Row("resistor", "0.1/7.5 + 0.05/1.50 = 0.0467\nΔR = 0.0467 × 5.0 = 0.23 Ω", "1111", "one line, " + COMMON, SUM),
    Row(
        "resistor",
        "voltage 1.3 percent, current 3.3 percent, square them, add and take the root: 3.6 percent",
        "1110",
        "in words, " + COMMON,
    ),
    Row(
        "resistor",
        STEPS + "sqrt(1.33^2+3.33^2) = 12.9 %\n12.9% of 5.0 = 0.64 Ω",
        "1101",
        "root not taken, followed, " + COMMON,
        ROOT,
        "root-not-taken",
    ),
    Row(
        "resistor",
        "0.1/7.5 = 1.33%\n0.05/1.5 = 0.33%\n√(1.33²+0.33²) = 1.37 %\n1.37% × 5 = 0.069 Ω",
        "0111",
        "own slip followed, " + COMMON,
    ),
    Row("resistor", "√(0.1²+0.05²) = 0.11 Ω", "0000", COMMON, ROOT, "absolute-uncertainties-combined"),
    Row("resistor", "0.1 + 0.05 = 0.15 Ω", "0000", COMMON, SUM, "absolute-uncertainties-combined"),
    Row("resistor", "1.33 % and 3.33 %", "1000", "stops early, conventions file 1.2 row 9"),
    Row("resistor", STEPS + "√(1.33²+3.33²) = 3.59\n0.18", "1110", "unit missing, conventions file 1.4", ROOT, "unit-missing"),
    Row("resistor", STEPS + "√(1.33²+3.33²) = 3.59%\nΔR = 0.1795 Ω", "1110", "figures, " + COMMON, ROOT, "too-many-figures"),
    Row("resistor", "0.18 Ω", "1111", "right answer alone, GMP 1 in conventions file 1.3"),
    Row("resistor", "0.31 Ω", "0000", "wrong answer alone, conventions file 1.2 row 4"),
    Row("resistor", "", "0000", "conventions file 1.2 row 5"),
    Row("energy", "m 2 %\nv 3.1 %, doubled 6.2 %\ncombined 6.5 %\nE = 1.28 ± 0.08 J", "1111", ROW42),
    Row("energy", "2 + 2×3.1 = 8.2 %\n8.2% x 1.28 = 0.105 J", "1111", ROW42, SUM),
    Row("energy", "2 % + 3.1 % + 3.1 % = 8.2%\n0.082×1.28=0.10 J", "1111", ROW42, SUM),
    Row("extension", "x = 23.0 mm\n√(0.5²+0.5²) = 0.7 mm", "11", "conventions file 1.4: absolute for sums"),
    Row("extension", "0.5+0.5 = 1.0 mm", "11", "conventions file 3.2: absolute added", SUM),
    Row("extension", "0.5+0.5 = 1.0 mm", "00", "conventions file 1.4", ROOT, "uncertainties-added"),
    Row("extension", "0.5/85 = 0.59%, 0.5/62=0.81%, √(0.59²+0.81²)=1.0%, 1% of 23 = 0.23 mm", "00", COMMON, ROOT, "percentages-of-a-sum"),
    Row("period", "mean = 2.32 s\nrandom uncertainty = (2.35-2.28)/5 = 0.014 s\nT = (2.32 ± 0.01) s", "111", "conventions file 1.4"),
    Row(
        "period",
        "(2.31+2.35+2.28+2.33+2.33)/5 = 2.32\n0.07/5 = 0.014\n2.32 ± 0.014 s",
        "110",
        "conventions file 3.2",
        ROOT,
        "places-unmatched",
    ),
    Row("period", "mean 2.32, uncertainty 0.07/2 = 0.035\n2.32 ± 0.04", "101", "own uncertainty followed, " + COMMON),
    Row("ratio", "1.3 + 3.3 = 4.6 %", "111", NEUTRAL, SUM),
    Row("ratio", "4.7%", "111", NEUTRAL, SUM),
    Row("ratio", "1.3 and 3.3, total 4.7", "110", "per cent sign missing, " + COMMON, SUM, "unit-missing"),
    Row("fall", "0.2%, 1.0% doubled 2.0%\n√(0.2²+2²) = 2.0%\ng = 9.77 ± 0.2 m/s²\nthis agrees with 9.81", "111", COMMON),
    Row("fall", "total 2.0% so 0.20 m s-2. 9.81 lies outside", "110", COMMON, ROOT, "conclusion-against-numbers"),
    Row(
        "wire",
        "0.01/0.36 = 2.8 %\n2 × 2.8 = 5.6 %\nA = 0.102 mm²\n5.6 % of 0.102 = 0.006 mm²",
        "1111",
        ROW42 + "; ±1 in the last digit: 1.4",
    ),
    Row("wire", "2.8%\nA = 0.102 mm^2\nΔA = 2.8% of 0.102 = 0.0028 mm^2", "1011", ROW42 + ", followed", ROOT, "power-not-multiplied"),
    # a power left out is a wrong way of combining; where powers have a point of their own, what comes after follows (common practice,
    # no source)
    Row("energy", "%m = 2%, %v = 3.1%\n√(2²+3.1²) = 3.7%\n3.7% of 1.28 = 0.047 J", "1000", ROW42, ROOT, "power-not-multiplied"),
    Row("energy", "2 + 3.1 = 5.1 %\n5.1% of 1.28 = 0.065 J", "1000", ROW42, SUM, "power-not-multiplied"),
    Row("energy in steps", "m 2%, v 3.1%\n√(2²+3.1²) = 3.7%\n3.7% of 1.28 = 0.047 J", "1011", ROW42, ROOT, "power-not-multiplied"),
    Row("energy in steps", "2%, 3.1%\n2 + 3.1 = 5.1%\n5.1% of 1.28 = 0.065 J", "1001", "sums, " + COMMON, SUM, "power-not-multiplied"),
    Row("energy followed", "2%, 3.1%\n2 + 3.1 = 5.1%\n5.1% of 1.28 = 0.065 J", "1011", "as the scheme says", SUM, "power-not-multiplied"),
    Row("energy in steps", "m 2%, v 3.8%\n0.1/3.2 = 3.8%\n2 + 7.6 = 9.6%\n9.6% of 1.28 = 0.12 J", "0111", "own slip, " + COMMON, SUM),
    Row("energy in steps", "m 2% v 3.1%\nv2 is 2 x 3.1 = 6.2%\ntotal 2 + 6.2 = 8.2%\n0.105 J", "1100", COMMON, ROOT, "uncertainties-added"),
    Row("energy in steps", "2%, 6.2%\n√(2²+6.2²) = 6.5%\n6.5% of 1.28 = 0.083 J", "1100", COMMON, SUM, "uncertainties-squared"),
    Row("energy, rule followed", "2%, 6.2%\n√(2²+6.2²) = 6.5%\n6.5% of 1.28 = 0.083 J", "1101", COMMON, SUM, "uncertainties-squared"),
    Row("energy in steps", "2%, 6.2%\n√(2²+6.2²) = 6.5%\n6.5% of 1.28 = 0.83 J", "1100", COMMON, SUM, "uncertainties-squared"),
    Row("energy in steps", "ΔE = 0.005 + 2 x 0.1 = 0.205 J", "0000", "absolute ones as they stand, " + COMMON, SUM),
    Row("energy in steps", "0.005/0.250 = 2%\n0.1/2.3 = 4.35%, x 2 = 8.7%\n2 + 8.7 = 10.7%", "0110", "miscopied, " + COMMON, SUM),
    Row("energy in steps", "2%, 3.1%, x 2 = 6.2%\n8.2%\nE = (1.28 ± 0.11) × 10^0 J", "1111", COMMON, SUM),
    Row("energy in steps", "2%, 6.2%\nlargest is 6.2%\n6.2% of 1.28 = 0.079 J", "1100", COMMON, SUM, "uncertainty-largest-only"),
    Row("energy in steps", "√(2²+6.25²) = 6.6 %\nΔE = 0.084 J", "1111", COMMON),
    Row("energy in steps", "m: 2%; v: 3.1%", "1000", COMMON),
    Row("energy in steps", "0.08 J", "1111", "right answer alone, GMP 1 in conventions file 1.3"),
    # percentages in a row, each after its letter, and a round number (common practice, no source)
    Row("resistor", "V 1.33% I 3.33%\nbiggest is 3.33%\n3.33% of 5.0 = 0.17 Ω", "1000", COMMON, ROOT, "uncertainty-largest-only"),
    Row("resistor", "1.33% 3.33%\n√(1.33²+3.33²)=3.6%\n0.18 Ω", "1111", COMMON),
    # the percentage is the answer: its sign, and figures as for any answer; a range that is typed holds (common practice, no source)
    Row("ratio", "0.1/7.5 = 0.0133, 0.05/1.5 = 0.0333\n0.0133 + 0.0333 = 0.0467", "110", COMMON, SUM, "fraction-for-percentage"),
    Row("ratio", "0.1/7.5 = 0.0133, 0.05/1.5 = 0.0333\n0.0133 + 0.0333 = 0.0467 = 4.67 %", "111", COMMON, SUM),
    Row("ratio", "1.333 % + 3.333 % = 4.667 %", "110", "four figures for one, " + COMMON, SUM, "too-many-figures"),
    Row("density", "1%, 2%\n1 + 3 x 2 = 7%\nρ = 2474\n7% of 2474 = 173 kg/m³", "1101", COMMON, SUM, "percentages-rounded-early"),
    Row("density", "0.75%, 1.6%\n0.75 + 3 x 1.6 = 5.5%\n5.5% of 2474 = 136 kg/m³", "1111", COMMON, SUM),
    Row("density", "0.75%, 1.6%\n0.75 + 1.6 = 2.4%\n2.4% of 2474 = 59 kg/m³", "1001", "only a percentage in range, " + COMMON, SUM),
    Row("block", "0.71 + 2 + 0.4 = 3.11\n3.11% of 52500 = 1630 mm3", "1111", COMMON, SUM),
    Row("block", "0.71 + 2 + 0.4 = 3.1%\n1600 mm³", "1111", COMMON, SUM),
    Row("block", "0.71 2 0.4\nbiggest 2 %\n1050 mm3", "1111", COMMON, LARGEST),
    Row("block", "0.71% 2% 0.4%\n√(0.71²+2²+0.4²)=2.2%\n1100 mm³", "1111", COMMON),
)


@pytest.mark.parametrize("row", TABLE, ids=str)
def test_points(row: Row) -> None:
    result = mark_uncertainty(part(row.scheme, row.rule), row.typed.split("\n"), {})
    assert (points(result), result.referred) == (row.expected, False), row.source
    if row.fault:
        assert row.fault in {f.code for f in result.faults}, row.source


def test_what_is_scrapped_does_not_count() -> None:
    """Conventions file 1.3: crossed out and replaced is ignored."""
    typed = [*STEPS.split("\n")[:2], "1.33 + 3.33 = 4.67 % scrap that", "√(1.33² + 3.33²) = 3.59 %", "0.18 Ω"]
    assert points(mark_uncertainty(part("resistor"), typed, {})) == "1111"


@pytest.mark.parametrize("name", sorted(SCHEMES))
@pytest.mark.parametrize("rule", [ROOT, SUM, LARGEST])
def test_model_answer_earns_everything(name: str, rule: str) -> None:
    compiled = part(name, rule)
    result = mark_uncertainty(compiled, model_uncertainty(compiled), {})
    assert (result.mark, result.referred) == (compiled.spec.marks, False)


@pytest.mark.parametrize("row", [r for r in TABLE if r.expected == "1111" and "Ω" in r.typed], ids=str)
def test_leaving_the_unit_out_never_raises_the_mark(row: Row) -> None:
    """Property of style companion 2.9."""
    whole = mark_uncertainty(part(row.scheme, row.rule), row.typed.split("\n"), {})
    bare = mark_uncertainty(part(row.scheme, row.rule), row.typed.replace("Ω", "").split("\n"), {})
    assert bare.mark <= whole.mark


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"quantities": {"V": "7.5 V", "I": "(1.50 ± 0.05) A"}}, "quantities.V"),
        ({"using": "R = V/Q"}, "using"),
        ({"within": ["0.3 Ω", "0.4 Ω"]}, "within"),
        ({"points": ["absolute"]}, "points"),
        ({"points": ["percentages", "powers", "combined", "absolute"]}, "points"),
        ({"points": ["percentages", "combination", "absolute", "comparison"]}, "accepted"),
    ],
)
def test_a_scheme_that_cannot_be_marked_with_is_refused(change: dict[str, object], key: str) -> None:
    with pytest.raises(SchemeError) as refused:
        compile_uncertainty(UncertaintySpec(**{**tomllib.loads(SCHEMES["resistor"]), **change}), Convention())
    assert key in str(refused.value)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(alphabet="VIRuncertain=+-*/()^.0123456789 ±%√\n", max_size=60), max_size=4))
def test_any_text_gives_a_mark_in_bounds(lines: list[str]) -> None:
    """Property of style companion 2.9: bounds; nothing raised on hostile text."""
    result = mark_uncertainty(part("resistor"), lines, {})
    assert 0 <= result.mark <= result.maximum
    assert [r.text for r in result.lines] == lines


def test_the_kind_offers_what_a_kind_must() -> None:
    assert (KIND.name, KIND.spec) == ("uncertainty", UncertaintySpec)
