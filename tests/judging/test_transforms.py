"""The transforms of the fault table on expression trees, held to the worked cases of the table.

Worked cases: the department's list of 42 common errors (conventions file, section 6, recomputed there), the others common
practice, no source. Judge of the bulk test: the plain carrying-out of the same transforms in tests/rubrics, which shares
no code with this one.
"""

import math
from typing import Any

import pytest

from marker.expression import Expr, Symbol
from marker.judging.known_faults import contexts, kinds_of_transform, known_faults
from marker.judging.transforms import Givens, apply
from marker.physics.evaluate import value_at
from marker.reading import read_expression, read_quantity, write_plain
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.compiled import Datum
from tests.rubrics.files import REAL, constants, faults, quantities
from tests.rubrics.plain import evaluate, letters
from tests.rubrics.transforms import wrong_expressions

EXAMPLES = [pytest.param(f, id=f["code"]) for f in faults()["fault"] if "expression" in f["example"]]


def _table(names: Any) -> SymbolTable:
    return SymbolTable(tuple(SymbolEntry(name=n, angle=n == "θ") for n in names))


def _values(data: dict[str, Any]) -> dict[str, float]:
    values: dict[str, float] = {}
    for name, value in data.items():
        values[name] = evaluate(value, values, REAL) if isinstance(value, str) else value
    return values


def _datum(symbol: str, text: str, constant: bool = False) -> Datum:
    q = read_quantity(text)
    return Datum(symbol=symbol, text=text, number=q.number, si=q.si, raw=q.number.value, unit=q.unit, constant=constant)


@pytest.mark.parametrize("fault", [p for p in EXAMPLES if "wrong_expression" in p.values[0]["example"]])  # type: ignore[index]
def test_the_worked_case_of_an_expression_comes_out(fault: dict[str, Any]) -> None:
    example = fault["example"]
    values = _values(example["data"])
    right = read_expression(example["expression"], _table(values))
    kinds = {"V_0": frozenset({"peak voltage"})}
    made = [value_at(tree, values) for tree in apply(fault["transform"], right, Givens(kinds=kinds))]
    assert pytest.approx(evaluate(example["wrong_expression"], values, REAL)) in made


# fault code, right expression, data as a question would give them, and the wrong value: the rows of the list of 42, by number.
DATA_ROWS = (
    ("length-unconverted", "pi*r^2", {"r": "0.25 mm"}, 0.196, "row 9"),
    ("area-by-length-factor", "A", {"A": "2.0 mm^2"}, 2.0e-3, "row 10"),
    ("volume-by-length-factor", "V", {"V": "25 cm^3"}, 0.25, "row 10"),
    ("diameter-for-radius", "pi*r^2", {"r": "0.25 mm"}, 7.85e-7, "row 11"),
    ("time-unconverted", "P*t", {"P": "2000 W", "t": "5 min"}, 1.0e4, "row 12"),
    ("speed-unconverted", "1/2*m*v^2", {"m": "1000 kg", "v": "72 km/h"}, 2.592e6, "row 13"),
    ("celsius-for-kelvin", "p*T_2/T_1", {"p": "100 kPa", "T_1": "20 °C", "T_2": "80 °C"}, 400e3, "row 14"),
    ("kelvin-added-to-difference", "m*c*ΔT", {"m": "2 kg", "c": "4180 J/(kg K)", "ΔT": "15 K"}, 2.41e6, "row 15"),
    ("calculator-mode", "sin(θ)", {"θ": "30°"}, -0.988, "row 16"),
    ("weight-as-mass", "F/m", {"F": "10 N", "m": "2.0408 kg", "g": "9.8 N/kg"}, 0.50, "row 19"),
    ("other-g", "m*g", {"m": "2.5 kg", "g": "9.8 N/kg"}, 25.0, "row 20"),
    ("sign", "u + a*t", {"u": "15 m/s", "a": "-9.8 m/s^2", "t": "2 s"}, 34.6, "row 21"),
    ("wrong-prefix", "C*V", {"C": "47 µF", "V": "12 V"}, 0.564, "row 22"),
    ("digits-exchanged", "V/I", {"V": "7.5 V", "I": "1.5 A"}, 3.8, "row 24"),
    ("electronvolt-unconverted", "h*c/E", {"h": "6.63e-34 J s", "c": "3.00e8 m/s", "E": "3.0 eV"}, 6.6e-26, "row 27"),
    ("percent-as-number", "η*E", {"η": "40 %", "E": "500 J"}, 20000.0, "row 28"),
    ("lines-as-spacing", "1/N", {"N": "300 mm^-1"}, 3.0e5, "row 36, reciprocal of the spacing"),
    ("decimal-point-lost", "V/I", {"V": "7.5 V", "I": "1.5 A"}, 50.0, "published 15-response table, row 12"),
    ("values-exchanged", "V/I", {"V": "7.5 V", "I": "1.5 A"}, 0.2, "published 15-response table, row 11"),
    ("copied-wrongly", "V/I", {"V": "7.5 V", "I": "1.5 A"}, 7.6 / 1.5, "common practice, no source"),
    ("unconverted", "V/I", {"V": "27.6 V", "I": "64 mA"}, 27.6 / 64, "common practice, no source"),
    ("other-quantity", "P/V", {"P": "1.8 kW", "V": "230 V", "d": "0.9 m"}, 1800 / 0.9, "common practice, no source"),
    ("another-datum", "m*v^2/r", {"m": "2 kg", "v": "3 m/s", "r": "1.9 m", "d": "3.8 m"}, 18 / 3.8, "common practice, no source"),
    ("wrong-conversion", "d/t", {"d": "1950 m", "t": "6.5 min"}, 3.0, "6.5 min taken as 650 s; common practice, no source"),
)


@pytest.mark.parametrize("row", DATA_ROWS, ids=lambda r: f"{r[0]} ({r[4]})")
def test_a_wrong_value_put_in_gives_the_wrong_result(row: tuple[str, str, dict[str, str], float, str]) -> None:
    code, text, given, wrong, _ = row
    data = {n: _datum(n, t, constant=n in ("g", "h", "c") and "J/(kg K)" not in t) for n, t in given.items()}
    expression = read_expression(text, _table(given))
    transform = next(f.transform for f in known_faults() if f.code == code)
    values = {n: d.si for n, d in data.items()}
    made = [value_at(tree, values) for tree in apply(transform, expression, Givens(data=data, values=values))]
    if code == "lines-as-spacing":
        made = [1 / m for m in made] + made
    assert any(math.isclose(m, wrong, rel_tol=6e-3) for m in made)


def test_a_quantity_in_the_expression_is_changed_as_a_datum_is() -> None:
    """The same fault on numbers put in: 27.6 V/64 mA with the milliamperes taken for amperes. Common practice, no source."""
    transform = next(f.transform for f in known_faults() if f.code == "unconverted")
    made = apply(transform, read_expression("(27.6 V)/(64 mA)"))
    assert [write_plain(m) for m in made] == ["27.6 V/64"]


ROUNDED = (("rounded-early", 0.67, 22.4, "row 23"), ("rounded-to-one-figure", 0.7, 24.5, "row 23"))


@pytest.mark.parametrize("row", ROUNDED, ids=lambda r: r[0])
def test_a_value_on_the_way_rounded_early(row: tuple[str, float, float, str]) -> None:
    """I = 2/3 A found on the way, then I²·50: 22.4 or 24.5 for 22.2 W (conventions file, section 6, row 23)."""
    code, put_in, wrong, _ = row
    transform = next(f.transform for f in known_faults() if f.code == code)
    given = Givens(data={"R": _datum("R", "50 Ω")}, values={"I": 2 / 3, "R": 50.0})
    made = apply(transform, read_expression("I^2*R", _table("IR")), given)
    assert any(math.isclose(value_at(m, given.values), wrong, rel_tol=5e-3) for m in made)
    assert any(f"{put_in}" in write_plain(m) for m in made)


EXPRESSIONS = (
    "V/I", "m*v^2/r",
    "1/2*m*v^2", "2*pi*sqrt(l/g)", "1/(1/R_1 + 1/R_2)", "u + a*t", "(v - u)/t", "1/2*(u + v)*t", "B*I*L*sin(θ)", "F*cos(θ)",
    "h*c/E", "k*q_1*q_2/r^2", "sqrt(2*g*h)", "sqrt(F_1^2 + F_2^2)", "(y_2 - y_1)/(x_2 - x_1)", "N_0*(1/2)^n", "ln(2)/T", "V_0/sqrt(2)",
    "m*c*ΔT", "m*g", "u*t + 1/2*a*t^2", "a/(b*c)", "(x_1 + x_2 + x_3)/3", "2*p_x + p_y",
)  # fmt: skip
# Kinds whose plain carrying-out in tests/rubrics changes the same places as ours does.
COMPARED = (
    "drop-root", "invert-under-root", "swap-function", "drop-symbol", "last-reciprocal", "series-for-parallel",
    "reciprocal-of-sum", "sum-for-root-sum-squares", "divide-last-term", "linear-decay", "one-point-gradient",
)  # fmt: skip


@pytest.mark.parametrize("text", EXPRESSIONS)
def test_all_that_the_plain_carrying_out_makes_is_made(text: str) -> None:
    """On each expression, every value the independent carrying-out gives is among ours."""
    names = sorted(letters(text))
    values = {n: 1.3 + 0.37 * i + 0.21 * i * i for i, n in enumerate(names)}
    tree = read_expression(text, _table(names))
    for fault in known_faults():
        if fault.kind not in COMPARED:
            continue
        if fault.kind == "sum-for-root-sum-squares" and "^2 +" not in text:
            continue  # the plain carrying-out expects squares under the root
        plain = [_finite(t, values) for t in wrong_expressions(text, fault.transform)]
        ours = [value_at(t, values) for t in apply(fault.transform, tree)]
        for value in plain:
            assert value is None or any(math.isclose(value, o) for o in ours), (fault.code, value, ours)


def _finite(text: str, values: dict[str, float]) -> float | None:
    try:
        return float(evaluate(text, values, REAL))
    except (ZeroDivisionError, ValueError, KeyError):
        return None


# Whatever a fault can do to a right expression, it must not leave it right: with the same data the value must differ, save where
# it is the writing or a coincidence that is at fault.
@pytest.mark.parametrize("text", EXPRESSIONS)
def test_a_change_of_the_expression_changes_its_value(text: str) -> None:
    names = sorted(letters(text))
    values = {n: 1.3 + 0.37 * i + 0.21 * i * i for i, n in enumerate(names)}
    tree = read_expression(text, _table(names))
    right = value_at(tree, values)
    for fault in known_faults():
        if kinds_of_transform()[fault.kind] == "expression":
            assert not any(math.isclose(value_at(m, values), right) for m in apply(fault.transform, tree)), fault.code


@pytest.mark.parametrize("kind", sorted(kinds_of_transform()))
def test_every_kind_is_carried_out_or_is_about_the_writing(kind: str) -> None:
    """Each kind gives something for one case of the table, apart from those that may be anything or change the writing only."""
    open_kinds = {"other-value", "other-relationship", "round-wrongly"}
    found: list[Expr] = []
    for fault in known_faults():
        if fault.kind == kind:
            for text in EXPRESSIONS:
                data = {n: _datum(n, _TYPICAL.get(n, "2.5 mm"), n in ("g", "h", "c")) for n in letters(text)}
                values = {n: d.si for n, d in data.items()} | {"I": 0.66, "v": 3.33}
                data = {n: d for n, d in data.items() if n not in ("I", "v")}
                dims = {n: d.unit.dimensions for n, d in data.items() if d.unit}
                tree = read_expression(text, _table(letters(text)))
                found += apply(fault.transform, tree, Givens(data=data, values=values, dimensions=dims))
    written = kinds_of_transform()[kind] == "writing"
    assert bool(found) != (written or kind in open_kinds)


_TYPICAL = {
    "θ": "30°", "V": "27.6 V", "R": "50 Ω", "m": "2.5 g", "t": "6.5 min", "g": "9.81 N/kg", "T": "20 °C", "ΔT": "15 K", "E": "3.0 eV",
    "a": "-9.8 m/s^2", "u": "15 m/s", "F": "40 %", "A": "2.0 mm^2", "r": "2.0 mm^2", "N_0": "160 kBq", "c": "3.00e8 m/s",
    "h": "6.63e-34 J s",
}  # fmt: skip


def test_contexts_name_faults_and_quantities_of_the_library() -> None:
    names = set(quantities())
    for code, kinds in contexts().items():
        assert code in {f.code for f in known_faults()} and kinds and kinds <= names, code


def test_lone_letters_change_to_wrong_quantities() -> None:
    """A datum on its own, as the fault namer asks: what 420 kg may have been copied as. Common practice, no source."""
    transform = next(f.transform for f in known_faults() if f.code == "digits-exchanged")
    made = apply(transform, Symbol(name="m", known=True), Givens(data={"m": _datum("m", "420 kg")}))
    assert {write_plain(m) for m in made} == {"240 kg", "402 kg"}


def test_constants_of_the_library_are_put_for_each_other() -> None:
    """Row 40: the speed of sound for that of light, the proton's mass for the electron's."""
    transform = next(f.transform for f in known_faults() if f.code == "wrong-constant")
    given = Givens(data={"c": _datum("c", "3.00e8 m/s", constant=True), "f": _datum("f", "5.0e14 Hz")}, values={"f": 5.0e14})
    made = [value_at(m, given.values) for m in apply(transform, read_expression("c/f", _table("cf")), given)]
    sound = float(constants()["v_s"]["value"])
    assert any(math.isclose(m, sound / 5.0e14) for m in made)
