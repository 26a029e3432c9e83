"""Gradient parts: invented tables, typed working, points expected.

Rows marked "conventions file 1.3" follow the ruling on numerical gradients there (two points on the line, wide apart; table points off
the line are wrong; unit from the axes); row 33 of section 6 documents the inverted and the one-point gradient. Other rows are common
practice, no source, with the numbers worked by hand.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import SchemeError
from marker.kinds.gradient.compiled import GradientPart, compile_gradient
from marker.kinds.gradient.mark import KIND, mark_gradient, model_gradient
from marker.kinds.gradient.spec import GradientSpec
from marker.results import PartResult
from marker.scheme.convention import Convention

FILE = "conventions file 1.3"
ROW33 = "conventions file section 6, row 33"
COMMON = "common practice, no source"
ROW33_STOP = ROW33 + "; not followed further, as other wrong physics (from memory)"

SCHEMES = {
    "pendulum": """
        name = "p1"
        marks = 4
        then = { find = "g", from = "g = 4*π^2/gradient", unit = "m/s^2", within = ["9.6 m/s^2", "10.0 m/s^2"] }
        [table.x]
        name = "length"
        symbol = "L"
        unit = "m"
        values = ["0.20", "0.40", "0.60", "0.80", "1.00"]
        [table.y]
        name = "period squared"
        symbol = "T^2"
        unit = "s^2"
        values = ["0.81", "1.62", "2.41", "3.23", "4.02"]
        """,
    "cell": """
        name = "c1"
        marks = 5
        points = ["method", "gradient", "intercept", "relationship", "answer"]
        then = { find = "r", from = "r = -gradient", unit = "Ω", names = ["internal resistance"] }
        [table.x]
        name = "current"
        symbol = "I"
        unit = "A"
        values = ["0.20", "0.40", "0.60", "0.80", "1.00"]
        [table.y]
        name = "terminal potential difference"
        symbol = "V"
        unit = "V"
        values = ["1.42", "1.31", "1.19", "1.11", "0.99"]
        """,
    "resistor": """
        name = "o1"
        marks = 4
        then = { find = "R", from = "R = gradient", unit = "Ω", names = ["resistance"] }
        [table.x]
        name = "current"
        symbol = "I"
        unit = "mA"
        values = ["10", "20", "30", "40", "50"]
        [table.y]
        name = "potential difference"
        symbol = "V"
        unit = "V"
        values = ["0.48", "0.95", "1.44", "1.90", "2.39"]
        """,
    "tram": """
        name = "a1"
        marks = 2
        [table.x]
        name = "time"
        symbol = "t"
        unit = "s"
        values = ["0.0", "2.0", "4.0", "6.0", "8.0"]
        [table.y]
        name = "velocity"
        symbol = "v"
        unit = "m/s"
        values = ["3.0", "5.5", "8.1", "12.6", "13.0"]
        """,
    "photocell": """
        name = "f1"
        marks = 4
        given = { e = "1.60e-19 C" }
        then = { find = "h", from = "h = gradient*e", unit = "J s", names = ["Planck constant"] }
        [table.x]
        name = "frequency"
        symbol = "f"
        unit = "Hz"
        values = ["6.0e14", "7.0e14", "8.0e14", "9.0e14"]
        [table.y]
        name = "stopping potential"
        symbol = "V"
        unit = "V"
        values = ["0.36", "0.77", "1.18", "1.60"]
        """,
    "spring": """
        name = "k1"
        marks = 4
        then = { find = "k", from = "k = 1/gradient", unit = "N/m", names = ["spring constant"] }
        [table.x]
        name = "force"
        symbol = "F"
        unit = "N"
        values = [2.0, 4.0, 6.0, 8.0]
        [table.y]
        name = "extension"
        symbol = "x"
        unit = "cm"
        values = [3.1, 6.2, 9.2, 12.4]
        """,
}


@lru_cache
def part(name: str, **rulings: str) -> GradientPart:
    return compile_gradient(GradientSpec(**tomllib.loads(SCHEMES[name])), Convention.model_validate(rulings))


def points(result: PartResult) -> str:
    return "".join(str(int(a.mark)) for a in result.awards)


def codes(result: PartResult) -> set[str]:
    return {f.code for f in result.faults}


@dataclass(frozen=True)
class Row:
    scheme: str
    typed: str
    expected: str
    source: str
    fault: str = ""

    def __str__(self) -> str:
        return f"{self.scheme}: {self.typed[:40]!r}"


TABLE = (
    Row("pendulum", "gradient = (4.02-0.81)/(1.00-0.20) = 4.01 s^2/m\ngradient = 4π²/g\ng = 4π²/4.01 = 9.84 m/s²", "1111", FILE),
    Row("pendulum", "m = 4.02 / 1.00 = 4.02\ng = 4π²/m = 39.48/4.02 = 9.82 N/kg", "1111", "one point and the origin, " + COMMON),
    Row("pendulum", "slope = 3.21/0.80 = 4.01\ng = 4π² × 4.01 = 158 m/s²", "1100", "wrong relationship, " + COMMON),
    Row("pendulum", "gradient = (0.81-4.02)/(0.20-1.00) = 4.0125\ng = 9.84", "1110", "unit missing, " + COMMON, "unit-missing"),
    Row("pendulum", "9.8 m/s^2", "1111", "right answer alone, GMP 1 in conventions file 1.3"),
    Row("pendulum", "8.1 m/s^2", "0000", "wrong answer alone, conventions file 1.2 row 4"),
    Row("pendulum", "gradient = 4.02 - 0.81 = 3.21/0.80 = 4.01 = 4π²/4.01 = 9.84 m/s² = g", "1111", "run-on equals signs, " + COMMON),
    Row("pendulum", "gradient = 1.00/4.02 = 0.249\ng = 4π²/0.249 = 158.7 m/s^2", "0010", ROW33_STOP, "gradient-inverted"),
    Row("pendulum", "gradient = 2.42/0.6 = 4.03 s² m⁻¹\n4π²/g = 4.03\ng = 9.80 ms-2", "1111", COMMON),
    Row("pendulum", "From the line of best fit the gradient is 4.02, gradient = 4π²/g so g = 9.82 m/s²", "1111", COMMON),
    Row("cell", "gradient = (0.99-1.42)/(1.00-0.20) = -0.54 V/A\nintercept = 1.53 V\ngradient = -r\nr = 0.54 Ω", "11111", FILE),
    Row("cell", "intercept 1.52, gradient -0.54\nr = 0.54 ohms", "11111", COMMON),
    Row("cell", "r = (1.42 - 0.99)/(1.00 - 0.20) = 0.43/0.80 = 0.54 Ω", "11011", "size of a falling gradient taken at once, " + COMMON),
    Row("resistor", "gradient = (2.39-0.48)/(50-10) = 0.04775 V/mA\nR = gradient = 47.8 Ω", "1111", COMMON),
    Row("resistor", "R = 2.39/0.050 = 47.8 ohms", "1111", COMMON),
    Row("resistor", "gradient = (2.39-0.48)/(0.050-0.010) = 47.75\nso R = 47.8 Ω", "1111", COMMON),
    Row(
        "resistor",
        "gradient = (2.39-0.48)/(50-10) = 0.0478\nR = 0.0478 Ω",
        "1110",
        "unit not converted: conventions file 1.3",
        "unconverted",
    ),
    Row("resistor", "gradient = 1.91/40 = 0.0478\nR = 1/gradient = 20.9 Ω", "1100", COMMON, "relationship-to-gradient"),
    Row(
        "resistor",
        "gradient = (2.39-0.48)/(50-10) = 0.0398\nR = 39.8 Ω",
        "1011",
        "arithmetic slip, then followed, " + COMMON,
        "gradient-arithmetic",
    ),
    Row("tram", "gradient = (13.0-3.0)/(8.0-0) = 1.25", "11", FILE),
    Row("tram", "13.0/8.0 = 1.63 m/s2", "00", ROW33, "gradient-one-point"),
    Row("tram", "(12.6 - 3.0)/(6.0 - 0) = 1.6", "00", FILE + ": table point off the line", "point-off-line"),
    Row("tram", "(13.0 - 5.5)/(8.0 - 4.0) = 1.875", "00", "values of different readings, " + COMMON, "points-mismatched"),
    Row("tram", "8.0/(13.0-3.0) = 0.80", "00", ROW33),
    Row("tram", "no idea", "00", "conventions file 1.2"),
    Row("spring", "gradient=12.4-3.1/8-2=1.55cm/N\nk=1/1.55=0.645N/cm", "1111", "lost brackets read as meant, " + COMMON),
    Row("spring", "1/gradient = k\ngradient = 1.55 cm/N = 0.0155 m/N\nk = 64.5 N/m", "1111", COMMON),
    Row("spring", "gradient = 9.3/6 = 1.55\nk = gradient = 1.55 N/cm", "1100", COMMON, "relationship-to-gradient"),
    Row("spring", "8.0 N stretches it 12.4 cm and the line starts at zero\n8.0/12.4 = 0.645 N per cm\nk is 64.5 N/m", "1111", COMMON),
    Row(
        "spring", "gradient = 9.3/6 = 1.55 cm/N = 0.155 m/N\nk = 1/0.155 = 6.45 N/m", "1110", "wrong power of ten, " + COMMON, "unconverted"
    ),
    Row("spring", "gradient = 9.3/6 = 1.55\nk = 1/1.55 = 0.645 N cm", "1110", "wrong unit, conventions file 1.3", "unit-wrong"),
    Row(
        "spring", "gradient = 9.3/6 = 1.55\nk = 64.51612 N/m", "1110", "figures: conventions file 1.3, two more at most", "too-many-figures"
    ),
    Row("cell", "gradient = (0.99-1.42)/(1.00-0.20) = -0.54\nr = -0.54 Ω", "11010", "a resistance left negative, " + COMMON),
    Row("cell", "-0.43/0.80=-.54\nr=-.54ohm", "11010", "a resistance left negative, " + COMMON),
    Row("cell", "slope = -0.54 V/A\nslope is -r so r = 0.54 Ω", "11011", COMMON),
    Row("cell", "r = V/I = 1.42/0.20 = 7.1 Ω", "00000", "one reading is no gradient of this line, " + FILE, "gradient-one-point"),
    Row("cell", "gradient = -r\nr=V/I=1.42/0.2=7.1ohm", "00010", "the relationship is stated all the same, " + COMMON),
    # the power of ten in the heading of an axis costs the answer alone (common practice, no source)
    Row("photocell", "1.24/3 = 0.413\n0.413 x 1.6e-19 = 6.61e-20 J s", "1110", COMMON, "axis-power-left-out"),
    Row("photocell", "gradient = (1.60-0.36)/(9.0-6.0) = 0.413\nh = 0.413 x 1.6x10^-19 = 6.6x10^-20 Js", "1110", COMMON),
    Row("photocell", "gradient = 1.24/3 = 0.413", "1100", COMMON),
    Row("photocell", "gradient = 1.24/3 = 0.413 so 4.13e-15\nh = 4.13e-15 x 1.6e-19 = 6.6e-34 J s", "1111", COMMON),
    # a wrong power of ten in the gradient is charged there, and followed (common practice, no source)
    Row("resistor", "gradient = (2.39-0.48)/(50-10) = 0.478 V/mA\nR = 478 Ω", "1011", COMMON, "power-of-ten"),
    # a share of the gradient in words; a try called the wrong way up (common practice, no source)
    Row("pendulum", "slope 0.8/3.21 = 0.249 wrong way up, ignore\ngradient = 3.21/0.8 = 4.01\ng = 4π²/4.01 = 9.84 N/kg", "1111", COMMON),
    # the candidate's own axes, said to be turned (common practice, no source)
    Row("spring", "F against x: slope = (8-2)/(12.4-3.1) = 0.645 N/cm\nk = slope = 64.5 N/m", "1111", COMMON),
    Row("spring", "inverse gradient = 6/9.3 = 0.645\nk = 0.645 N/cm", "1111", COMMON),
    Row("pendulum", "1/gradient = (1.00-0.20)/(4.02-0.81) = 0.249\ng = 4π² x 0.249 = 9.84 m/s²", "1111", COMMON),
    Row("spring", "k = 1/1.55 = 0.645 N/cm or is it 1.55 N/cm", "1110", "two answers: conventions file 1.3", "two-answers"),
)


@pytest.mark.parametrize("row", TABLE, ids=str)
def test_points(row: Row) -> None:
    result = mark_gradient(part(row.scheme), row.typed.split("\n"), {})
    assert (points(result), result.referred) == (row.expected, False), row.source
    if row.fault:
        assert row.fault in codes(result), row.source


@pytest.mark.parametrize(
    ("scheme", "typed", "why"),
    [
        ("spring", "gradient = 8.0/12.4 = 0.645\nk = 0.645 N/cm", "the other axis may have been meant as vertical"),
        ("cell", "gradient = (1.42-0.99)/(1.00-0.20) = 0.54\nr = 0.54 Ω", "size without sign"),
    ],
)
def test_what_a_person_must_settle_is_referred(scheme: str, typed: str, why: str) -> None:
    """Cases where examiners differ (common practice, no source): provisional mark, both possibilities named."""
    result = mark_gradient(part(scheme), typed.split("\n"), {})
    assert result.referral is not None, why
    assert len({p.mark for p in result.referral.possibilities}) == 2


def test_a_gradient_without_its_minus_sign_where_the_scheme_lets_it_stand() -> None:
    """Common practice, no source."""
    lenient = compile_gradient(GradientSpec(**tomllib.loads("either_sign = true\n" + SCHEMES["cell"])), Convention())
    typed = ["gradient = (1.42-0.99)/(1.00-0.20) = 0.54", "gradient = -r", "r = 0.54 Ω"]
    result = mark_gradient(lenient, typed, {})
    assert (points(result), result.referred) == ("11011", False)


@pytest.mark.parametrize(
    ("rulings", "expected"),
    [
        ({}, "0010"),
        ({"transcription_slip": "substitution mark, followed"}, "1011"),
        ({"follow_wrong_physics": True}, "1011"),
        ({"transcription_slip": "answer mark"}, "0010"),
    ],
)
def test_a_gradient_upside_down(rulings: dict[str, object], expected: str) -> None:
    """Numbers of one axis in the place of the other's: as the paper rules for misread data (switch 9 of conventions file 1.5)."""
    typed = ["gradient = (1.00-0.20)/(4.02-0.81) = 0.249", "g = 4π²/gradient = 4π²/0.249 = 158.5 m/s²"]
    assert points(mark_gradient(part("pendulum", **rulings), typed, {})) == expected  # type: ignore[arg-type]
    in_the_head = ["gradient = 0.80/3.21 = 0.249", typed[1]]
    unseen = points(mark_gradient(part("pendulum", **rulings), in_the_head, {}))  # type: ignore[arg-type]
    assert unseen == "0" + expected[1:], "points that are not written out are no method (common practice, no source)"


@pytest.mark.parametrize(
    ("rulings", "expected"),
    [({}, "1110"), ({"unit_fault": "none"}, "1111")],
)
def test_the_unit_ruling(rulings: dict[str, str], expected: str) -> None:
    """Switch 4 of conventions file 1.5."""
    typed = ["gradient = 9.3/6 = 1.55 cm/N", "k = 1/gradient", "k = 64.5"]
    assert points(mark_gradient(part("spring", **rulings), typed, {})) == expected


@pytest.mark.parametrize(("ruling", "expected"), [("full", "1111"), ("none", "0000")])
def test_answer_alone(ruling: str, expected: str) -> None:
    """Switch 1 of conventions file 1.5."""
    assert points(mark_gradient(part("spring", answer_only=ruling), ["64.5 N/m"], {})) == expected


def test_the_reading_off_the_line_is_passed_by() -> None:
    """By hand: without (6.0, 12.6) the four others lie on v = 3.0 + 1.25 t within 0.1."""
    tram = part("tram")
    assert tram.line.gradient == pytest.approx(1.25, abs=0.02)
    assert "t = 6" in tram.notes[0]


@pytest.mark.parametrize("name", sorted(SCHEMES))
def test_model_answer_earns_everything_and_a_blank_nothing(name: str) -> None:
    compiled = part(name)
    assert mark_gradient(compiled, model_gradient(compiled), {}).mark == compiled.spec.marks
    assert mark_gradient(compiled, [""], {}).mark == 0


def test_points_close_together_cost_the_method_where_the_scheme_says_so() -> None:
    """Conventions file 1.3: wide apart."""
    spec = GradientSpec(**tomllib.loads(SCHEMES["spring"])).model_copy(update={"apart": 0.5})
    result = mark_gradient(compile_gradient(spec, Convention()), ["(6.2-3.1)/(4-2) = 1.55 cm/N", "k = 1/1.55 = 0.645 N/cm"], {})
    assert points(result) == "0111"
    assert "points-close" in codes(result)


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"points": ["method"]}, "points"),
        ({"then": None, "points": ["method", "gradient", "relationship", "answer"]}, "points"),
        ({"gradient_within": ["1.5 N/cm", "1.6 furlongs"]}, "gradient_within"),
    ],
)
def test_a_scheme_that_cannot_be_marked_with_is_refused(change: dict[str, object], key: str) -> None:
    spec = GradientSpec(**tomllib.loads(SCHEMES["spring"])).model_copy(update=change)
    with pytest.raises(SchemeError) as refused:
        compile_gradient(spec, Convention())
    assert key in str(refused.value)


def test_the_relationship_must_end_in_the_quantity_wanted() -> None:
    table = tomllib.loads(SCHEMES["spring"])
    table["then"]["from"] = "F = q*x"
    with pytest.raises(SchemeError, match="then"):
        compile_gradient(GradientSpec(**table), Convention())


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(alphabet="gradientkxFmN=+-*/()^.0123456789 ±%√\n", max_size=60), max_size=4))
def test_any_text_gives_a_mark_in_bounds(lines: list[str]) -> None:
    """Property of style companion 2.9: bounds; nothing raised on hostile text."""
    result = mark_gradient(part("spring"), lines, {})
    assert 0 <= result.mark <= result.maximum
    assert len(result.lines) == len(lines)


@pytest.mark.parametrize("shift", [-3, 1, 3])
def test_moving_every_reading_by_a_power_of_ten_changes_nothing(shift: int) -> None:
    """Property of style companion 2.9: move the data by a power of ten, rework the lines, same points."""
    scale = 10.0**shift
    table = tomllib.loads(SCHEMES["spring"])
    table["table"]["y"]["values"] = [f"{v * scale:.6g}" for v in (3.1, 6.2, 9.2, 12.4)]
    compiled = compile_gradient(GradientSpec(**table), Convention())
    typed = [
        f"gradient = ({12.4 * scale:.6g}-{3.1 * scale:.6g})/(8-2) = {1.55 * scale:.3g} cm/N",
        f"k = 1/gradient = {64.5 / scale:.3g} N/m",
    ]
    assert points(mark_gradient(compiled, typed, {})) == "1111"


def test_the_kind_offers_what_a_kind_must() -> None:
    assert (KIND.name, KIND.spec) == ("gradient", GradientSpec)


WORST = """
    name = "w1"
    marks = 4
    points = ["method", "gradient", "worst line", "uncertainty"]
    table.x = { name = "mass", symbol = "m", unit = "kg", values = ["0.1", "0.2", "0.3", "0.4", "0.5"] }
    table.y = { name = "extension", symbol = "x", unit = "mm", values = ["12", "25", "36", "49", "60"], uncertainty = 2 }
    """
LAWS = {
    "pendulum": (
        """
        then = { find = "g", law = "T = 2*π*√(L/g)", unit = "m/s^2" }
        table.x = { name = "length", symbol = "L", unit = "m", values = ["0.20", "0.60", "1.00"] }
        table.y = { name = "period squared", symbol = "T^2", unit = "s^2", values = ["0.81", "2.41", "4.02"] }
        """,
        "gradient = 4.01 s²/m\ngradient = 4π²/g\ng = 9.84 m/s²",
    ),
    "photocell": (
        """
        then = { find = "h", law = "e*V = h*f - φ", unit = "J s" }
        table.x = { name = "frequency", symbol = "f", unit = "Hz", values = ["5.5e14", "6.5e14", "7.5e14"] }
        table.y = { name = "stopping voltage", symbol = "V", unit = "V", values = ["0.42", "0.83", "1.25"] }
        """,
        "gradient = (1.25-0.42)/(2.0e14) = 4.15e-15\nh = e × gradient = 1.6e-19 × 4.15e-15 = 6.64e-34 J s",
    ),
}


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("gradient = (60-12)/(0.5-0.1) = 120 mm/kg\nsteepest = (62-10)/0.4 = 130\nuncertainty = 10 mm/kg", "1111"),
        ("gradient = 120\nworst gradient 128 so 120±8", "1111"),
        ("gradient = 120 ± 30", "1100"),
    ],
)
def test_best_and_worst_lines(typed: str, expected: str) -> None:
    """By hand: bars of ±2 mm give gradients from (58 − 14)/0.4 = 110 to (62 − 10)/0.4 = 130 mm/kg."""
    compiled = compile_gradient(GradientSpec(**tomllib.loads(WORST)), Convention())
    assert compiled.extremes is not None
    assert [line.gradient for line in compiled.extremes] == pytest.approx([110.0, 130.0])
    assert points(mark_gradient(compiled, typed.split("\n"), {})) == expected
    assert mark_gradient(compiled, model_gradient(compiled), {}).mark == 4


@pytest.mark.parametrize("name", sorted(LAWS))
def test_a_law_and_its_axes_give_the_relationship(name: str) -> None:
    """Textbook results (common practice): T² against L has gradient 4π²/g; V_s against f has gradient h/e, e from the data sheet."""
    keys, typed = LAWS[name]
    spec = GradientSpec(name="x1", marks=4, **tomllib.loads(keys))
    compiled = compile_gradient(spec, Convention(), {"e": ("1.60e-19 C",), "c": ("3.00e8 m/s",)})
    assert points(mark_gradient(compiled, typed.split("\n"), {})) == "1111"


def test_axes_that_do_not_straighten_the_law_are_refused() -> None:
    keys = tomllib.loads(LAWS["pendulum"][0])
    keys["table"]["y"]["symbol"] = "T"
    with pytest.raises(SchemeError, match="straight line"):
        compile_gradient(GradientSpec(name="x1", marks=4, **keys), Convention())
