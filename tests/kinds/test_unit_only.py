"""Units alone: names and symbols, equivalents by dimension and size, prose, two answers."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.errors import SchemeError
from marker.kinds.unit_only import KIND
from marker.results import PartResult
from marker.scheme.convention import Convention


def part(of: str, unit: str, **keys: Any) -> Any:
    return KIND.compile(KIND.spec.model_validate({"name": "1", "kind": "unit", "marks": 1, "of": of, "unit": unit, **keys}), Convention())


PARTS = {
    "flux density": part("magnetic flux density", "T"),
    "velocity": part("velocity", "m s^-1"),
    "moment": part("moment of a force", "N m"),
    "energy": part("energy", "J"),
    "refractive index": part("refractive index", "none"),
    "frequency": part("frequency", "Hz"),
    "heat capacity": part("specific heat capacity", "J kg^-1 K^-1", also=["J kg^-1 °C^-1"]),
    "symbol": part("magnetic flux density", "T", form="symbol"),
    "name": part("magnetic flux density", "tesla", form="name"),
    "constant of gravitation": part("constant of gravitation", "N m^2 kg^-2"),
    "resistance": part("resistance", "Ω"),
}


def mark(name: str, text: str) -> PartResult:
    return KIND.mark(PARTS[name], text.split("\n"), {})


# Equivalences: SI Brochure (9th ed., table 4, derived units with special names); ways of writing: common practice, no source.
READ = {
    "flux density": {
        1.0: (
            "T",
            "tesla",
            "teslas",
            "Tesla",
            "the tesla",
            "tesla (T)",
            "T (tesla)",
            "The unit is tesla",
            "the unit of B is T",
            "T.",
            "N/(A m)",
            "N A-1 m-1",
            "NA^-1m^-1",
            "N A⁻¹ m⁻¹",
            "Wb/m2",
            "Wb m^-2",
            "kg s^-2 A^-1",
            "newtons per amp metre",
            "newton per ampere per metre",
            "N per A m",
            "B is measured in teslas",
            "Teslas, T",
            "unit: T",
            "= T",
            "A no T",
            "N, no, T",
            "~~N~~ T",
            "webers per square metre",
            "The SI unit of magnetic flux density is the tesla",
            "T or N/Am",
            "tesla, which is N/A m",
            "T because B is flux density",
            "V s m^-2",
            "N/A/m",
            "5 T",
            "$T$",
            "N A^{-1} m^{-1}",
        ),
        0.0: (
            "N",
            "Wb",
            "weber",
            "A",
            "amps",
            "",
            "dont know",
            "T or N",
            "mT",
            "millitesla",
            "gauss",
            "V",
            "no unit",
            "N/A",
            "N m",
            "T m",
            "tesla metres",
        ),
    },
    "velocity": {
        1.0: (
            "m/s",
            "ms-1",
            "m s-1",
            "metres per second",
            "meters/second",
            "m s⁻¹",
            "ms^-1",
            "metre per second",
            "mps",
            "m/s (metres per second)",
        ),
        0.0: (
            "m/s2",
            "km/h",
            "m",
            "ms",
            "s/m",
            "miles per hour",
            "m s^-2",
        ),
    },
    "moment": {
        1.0: (
            "N m",
            "Nm",
            "newton metres",
            "newton metre",
        ),
        0.0: (
            "J",
            "N",
            "N/m",
            "joules",
        ),
    },
    "energy": {
        1.0: (
            "J",
            "joules",
            "N m",
            "Nm",
            "W s",
            "kg m2 s-2",
            "C V",
            "j",
        ),
        0.0: (
            "W",
            "kJ",
            "eV",
        ),
    },
    "refractive index": {
        1.0: (
            "no unit",
            "none",
            "no units",
            "it has no unit",
            "dimensionless",
            "It has no units because it's a ratio",
            "None",
        ),
        0.0: (
            "m/s",
            "degrees",
        ),
    },
    "frequency": {
        1.0: (
            "Hz",
            "hertz",
            "s-1",
            "1/s",
            "per second",
            "hz",
            "HZ",
            "s^-1",
        ),
        0.0: (
            "Bq",
            "s",
            "kHz",
        ),
    },
    "heat capacity": {
        1.0: (
            "J kg-1 K-1",
            "J/kg/K",
            "J/(kg K)",
            "J/kg K",
            "joules per kilogram per kelvin",
            "J kg⁻¹ K⁻¹",
            "J kg^-1 °C^-1",
            "joules per kilogram per degree celsius",
        ),
        0.0: (
            "J/kg",
            "J",
        ),
    },
    "symbol": {
        1.0: ("T",),
        0.0: ("tesla",),
    },
    "name": {
        1.0: ("tesla",),
        0.0: ("T",),
    },
    "constant of gravitation": {
        1.0: (
            "N m2 kg-2",
            "Nm²/kg²",
            "N m^2/kg^2",
            "m3 kg-1 s-2",
            "newton metre squared per kilogram squared",
            "Nm^2kg^-2",
        ),
    },
    "resistance": {
        1.0: (
            "Ω",
            "ohm",
            "ohms",
            "V/A",
            "V A^-1",
            "Ohms",
            "volts per amp",
        ),
        0.0: (
            "R",
            "kΩ",
        ),
    },
}
ROWS = [(name, expected, text) for name, table in READ.items() for expected, texts in table.items() for text in texts]


@pytest.mark.parametrize(("name", "expected", "text"), ROWS)
def test_units(name: str, expected: float, text: str) -> None:
    result = mark(name, text)
    assert (result.mark, result.referral) == (expected, None), result


# SI Brochure, 9th ed., table 4: special name, in other SI units, in base units.
DERIVED = (
    ("N", "kg m s^-2"), ("Pa", "N/m^2", "kg m^-1 s^-2"), ("J", "N m", "kg m^2 s^-2"), ("W", "J/s", "kg m^2 s^-3"), ("C", "A s"),
    ("V", "W/A", "kg m^2 s^-3 A^-1"), ("F", "C/V", "kg^-1 m^-2 s^4 A^2"), ("Ω", "V/A", "kg m^2 s^-3 A^-2"), ("S", "A/V"), ("Wb", "V s"),
    ("T", "Wb/m^2", "kg s^-2 A^-1"), ("H", "Wb/A", "kg m^2 s^-2 A^-2"), ("Hz", "s^-1"), ("Bq", "s^-1"),
    ("Gy", "J/kg", "m^2 s^-2"), ("Sv", "J/kg"),
)  # fmt: skip


@pytest.mark.parametrize("row", DERIVED, ids=lambda row: row[0])
def test_every_expression_of_a_derived_unit_is_accepted_for_it(row: tuple[str, ...]) -> None:
    for text in row:
        assert KIND.mark(part("quantity", row[0]), [text], {}).mark == 1.0, text


@pytest.mark.parametrize("row", DERIVED, ids=lambda row: row[0])
def test_no_other_special_name_is_accepted(row: tuple[str, ...]) -> None:
    for other in DERIVED:
        if other[0] != row[0]:
            assert KIND.mark(part("quantity", row[0]), [other[0]], {}).mark == 0.0, other[0]


@pytest.mark.parametrize("text", ["t", "banana", "flux lines"])
def test_what_cannot_be_decided_is_referred(text: str) -> None:
    result = mark("flux density", text)
    assert result.mark == 0.0
    assert result.referral is not None
    assert result.lines[0].verdict == "unread"


# a compound unit typed all in capitals: each symbol as it stands or in small letters (common practice, no source)
SHOUTED = (
    ("V m^-1", "V/M", 1.0), ("V m^-1", "V M^-1", 1.0), ("kg m s^-1", "KG M/S", 1.0), ("J kg^-1 K^-1", "J/KG K", 1.0), ("Pa", "N/M^2", 1.0),
    ("W m^-2", "W/M2", 1.0), ("N A^-1 m^-1", "N A^-1 M^-1", 1.0), ("Pa", "M/S", 0.0), ("V m^-1", "V M", 0.0),
)  # fmt: skip


@pytest.mark.parametrize(("unit", "typed", "mark"), SHOUTED)
def test_units_in_capitals(unit: str, typed: str, mark: float) -> None:
    assert KIND.mark(part("quantity", unit), [typed], {}).mark == mark


@pytest.mark.parametrize("slip", ["Telsa", "teslla", "tesala", "TESLA"])
def test_slips_in_a_name_are_mended(slip: str) -> None:
    assert mark("flux density", slip).mark == 1.0


# Conventions file 1.5 switches 6 and 12.
RULINGS = (
    ({"case_tolerant_units": False}, "Hz", "hz", 0.0),
    ({"case_tolerant_units": False}, "Hz", "hertz", 1.0),
    ({"case_tolerant_units": True}, "Hz", "hz", 1.0),
    ({"two_answers": "zero"}, "T", "T or N", 0.0),
    ({"two_answers": "first"}, "T", "T or N", 1.0),
    ({"two_answers": "last"}, "T", "T or N", 0.0),
    ({"two_answers": "best"}, "T", "N or T", 1.0),
    ({"crossed_out": "never"}, "T", "~~T~~", 0.0),
    ({"crossed_out": "if not replaced"}, "T", "~~T~~", 1.0),
)


@pytest.mark.parametrize(("rulings", "unit", "text", "expected"), RULINGS)
def test_rulings(rulings: dict[str, Any], unit: str, text: str, expected: float) -> None:
    assert KIND.mark(part("quantity", unit, rulings=rulings), [text], {}).mark == expected


def test_multiples_count_only_where_the_scheme_says_so() -> None:
    assert KIND.mark(part("length", "m"), ["mm"], {}).mark == 0.0
    assert KIND.mark(part("length", "m", size="any"), ["mm"], {}).mark == 1.0


def test_faults_reasons_and_lines() -> None:
    assert [f.code for f in mark("flux density", "N").faults] == ["unit-of-another-quantity"]
    assert [f.code for f in mark("flux density", "mT").faults] == ["unit-with-prefix"]
    wrong = mark("flux density", "the unit is the weber")
    assert wrong.awards[0].reason == "Line 1: “weber” is not a unit of the magnetic flux density; its unit is T."
    assert [x.verdict for x in mark("flux density", "N, no, T\nso tesla").lines] == ["right", "right"]
    assert mark("flux density", "").awards[0].reason == "No unit is given."


@pytest.mark.parametrize("name", sorted(PARTS))
def test_the_model_answer_earns_full_marks(name: str) -> None:
    result = KIND.mark(PARTS[name], KIND.model(PARTS[name]), {})
    assert (result.mark, result.referral) == (1.0, None)


def test_a_scheme_without_a_unit_is_refused() -> None:
    with pytest.raises(SchemeError) as refused:
        part("flux density", "teslameter of sorts")
    assert refused.value.problems[0].where == "part 1, unit"
    assert refused.value.problems[0].mend


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.text(max_size=60), st.sampled_from(sorted(PARTS)))
def test_any_text_is_marked(text: str, name: str) -> None:
    result = mark(name, text)
    assert 0 <= result.mark <= result.maximum
    assert len(result.lines) == len(text.split("\n"))
