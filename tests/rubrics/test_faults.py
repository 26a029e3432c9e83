"""Every fault of the table: its worked case recomputed, its texts usable with or without values, all 42 rows present.

Numbers: the department's list of 42 common errors (conventions file, section 6) for faults with a `number`; the
others are cases of our own, common practice, no source.
"""

import math
import re
import string
from collections.abc import Mapping
from typing import Any

import pytest

from .files import REAL, constants, faults, quantities
from .plain import evaluate, letters
from .transforms import explains, wrong_expressions

FAULTS = [pytest.param(f, id=f["code"]) for f in faults()["fault"]]
CLASSES = {
    "relationship", "substitution", "conversion", "arithmetic", "rounding", "unit", "figures", "transcription", "rearrangement", "answer",
}  # fmt: skip
OPTIONAL = {"number", "ratio", "context", "over"}
KEYS = {"code", "name", "class", "transform", "teacher", "student", "plain", "practise", "source", "example"} | OPTIONAL
EXAMPLE = {"right", "wrong", "right_value", "wrong_value", "expression", "data", "wrong_expression", "wrong_data"}
KINDS: Mapping[str, str] = {kind: on for on, kinds in faults()["kinds"].items() for kind in kinds}
CASE = re.compile(r"(?P<working>[^=]+) = (?P<value>-?[0-9./e-]+)(?: (?P<unit>\S+))?")

# In these the working is right and the value written is not the value of the working.
ANOTHER_RESULT = {"other-value", "ignore-power", "round-wrongly", "scale-value", "right-from-wrong"}

# The 42 rows: what is right and what comes out wrong, as the list prints them. "-" where it prints no number.
ROWS = {
    1: ("5.0", {"0.20"}), 2: ("5.0", {"11.25"}), 3: ("8", {"4"}), 4: ("8", {"16"}), 5: ("9.90", {"98"}), 6: ("8", {"16", "120"}),
    7: ("2.01", {"0.319"}), 8: ("2.01", {"19.7"}), 9: ("1.96e-7", {"0.196"}), 10: ("2.0e-6", {"2.0e-3", "0.25"}),
    11: ("1.96e-7", {"7.85e-7"}), 12: ("6.0e5", {"1.0e4"}), 13: ("2.0e5", {"2.59e6"}), 14: ("120", {"400"}), 15: ("1.25e5", {"2.41e6"}),
    16: ("0.500", {"-0.988"}), 17: ("8.66", {"5.00"}), 18: ("4.9", {"0.50"}), 19: ("4.9", {"0.50"}), 20: ("24.5", {"25"}),
    21: ("-4.6", {"34.6"}), 22: ("5.64e-4", {"0.564"}), 23: ("22.2", {"22.4", "24.5"}), 24: ("5.0", {"3.8"}), 25: ("2.0", {"0.50"}),
    26: ("2.0", {"9.0", "0.11"}), 27: ("4.14e-7", {"6.6e-26"}), 28: ("200", {"20000", "1250"}), 29: ("60", {"120"}),
    30: ("8.49", {"17.0", "12"}), 31: ("17.8", {"53.3"}), 32: ("5", {"7"}), 33: ("2.0", {"0.5", "2.67"}), 34: ("10", {"26.7", "13.3"}),
    35: ("0.139", {"0.0602"}), 36: ("3.33e-6", {"3.0e5"}), 37: ("1", {"9"}), 38: ("3e8", {"3e9"}), 39: ("2.2", {"5.13"}), 40: ("-", set()),
    41: ("-", set()), 42: ("4.7", {"3.3"}),
}  # fmt: skip


def test_codes_are_stable_names_and_unique() -> None:
    codes = [f["code"] for f in faults()["fault"]]
    assert len(codes) == len(set(codes))
    assert all(re.fullmatch(r"[a-z]+(-[a-z]+)*", c) for c in codes)


@pytest.mark.parametrize("fault", FAULTS)
def test_built_as_documented(fault: dict[str, Any]) -> None:
    assert set(fault) <= KEYS and set(fault) >= KEYS - OPTIONAL
    assert fault["class"] in CLASSES
    assert fault["transform"]["kind"] in KINDS
    assert set(fault["example"]) <= EXAMPLE
    assert fault["source"] and fault["practise"]
    assert set(fault.get("over", [])) <= {f["code"] for f in faults()["fault"]} - {fault["code"]}
    for named in ("put", "instead_of", "quantity"):
        assert fault["transform"].get(named, "mass") in quantities()
    assert fault["transform"].get("symbol", "g") in constants()
    for factor in fault["transform"].get("factors", []):
        assert factor in {"function", "g"} or evaluate(factor, {}, REAL) > 0
    assert {s for pair in fault["transform"].get("pairs", []) for s in pair} <= set(constants()) | {"sin", "cos", "tan", "ln", "log10"}


def test_every_kind_is_used() -> None:
    assert {f["transform"]["kind"] for f in faults()["fault"]} == set(KINDS)


@pytest.mark.parametrize("row", ROWS)
def test_every_row_is_there_with_its_numbers(row: int) -> None:
    """The printed right value, and each printed wrong one, stand in some example of the row."""
    right, wrong = ROWS[row]
    examples = [f["example"] for f in faults()["fault"] if f.get("number") == row]
    assert examples
    assert right == "-" or any(e["right_value"] == float(right) for e in examples)
    assert {float(w) for w in wrong} <= {e["wrong_value"] for e in examples}


@pytest.mark.parametrize("fault", FAULTS)
def test_the_worked_case_is_right(fault: dict[str, Any]) -> None:
    """The right line comes to the right value, as printed."""
    example = fault["example"]
    working, value = _case(example["right"])
    assert value == example["right_value"]
    assert _rounds_to(evaluate(working, {}, REAL), example["right"])
    if "expression" in example:
        assert letters(example["expression"]) <= set(example["data"])
        assert evaluate(example["expression"], _numbers(example["data"]), REAL) == pytest.approx(evaluate(working, {}, REAL), rel=2e-3)


@pytest.mark.parametrize("fault", FAULTS)
def test_the_wrong_case_comes_out_as_printed(fault: dict[str, Any]) -> None:
    """The wrong line comes to the wrong value, unless the fault is that the line does not give its own result."""
    example = fault["example"]
    working, value = _case(example["wrong"])
    assert value == pytest.approx(example["wrong_value"], rel=1e-3)
    its_own_result = _rounds_to(evaluate(working, {}, REAL), example["wrong"])
    assert its_own_result == (fault["transform"]["kind"] not in ANOTHER_RESULT)


@pytest.mark.parametrize("fault", [p for p in FAULTS if "expression" in p.values[0]["example"]])  # type: ignore[index]
def test_the_wrong_expression_or_datum_gives_the_wrong_value(fault: dict[str, Any]) -> None:
    example = fault["example"]
    assert ("wrong_expression" in example) != ("wrong_data" in example)
    expression = example.get("wrong_expression", example["expression"])
    values = _numbers({**example["data"], **example.get("wrong_data", {})})
    found = evaluate(expression, values, REAL)
    assert _rounds_to(found, example["wrong"])
    if "ratio" in fault:
        right = evaluate(example["expression"], _numbers(example["data"]), REAL)
        assert found / right == pytest.approx(evaluate(fault["ratio"], {**_numbers(example["data"]), "right": right}, REAL), rel=2e-3)


@pytest.mark.parametrize("fault", [p for p in FAULTS if "expression" in p.values[0]["example"]])  # type: ignore[index]
def test_the_transform_makes_the_wrong_case(fault: dict[str, Any]) -> None:
    """The transform, carried out by itself, turns the right expression or datum of the worked case into the wrong one."""
    example = fault["example"]
    data = _numbers(example["data"])
    if "wrong_expression" in example:
        made = [_or_nan(text, data) for text in wrong_expressions(example["expression"], fault["transform"])]
        assert pytest.approx(evaluate(example["wrong_expression"], data, REAL)) in made
    else:
        changed = _numbers({**example["data"], **example["wrong_data"]})
        assert all(explains(fault["transform"], data[name], changed[name]) for name in example["wrong_data"])


@pytest.mark.parametrize("fault", FAULTS)
def test_texts_can_be_filled_in(fault: dict[str, Any]) -> None:
    """Only documented placeholders, none where the text stands in for a missing value; sentences for the student."""
    for text in (fault["teacher"], fault["student"]):
        assert {name for _, name, _, _ in string.Formatter().parse(text) if name} <= set(faults()["placeholders"])
    assert not any("{" in fault[key] for key in ("name", "plain", "practise"))
    assert not fault["teacher"].endswith(".") and not fault["practise"].endswith(".")
    for text in (fault["student"], fault["plain"]):
        assert text[0].isupper() and text.endswith(".") and len(text) <= 170


@pytest.mark.parametrize("fault", FAULTS)
def test_student_texts_are_plain(fault: dict[str, Any]) -> None:
    """No blame and none of the marker's own terms. The word list is ours."""
    text = re.sub(r"\{\w+\}", "", f"{fault['student']} {fault['plain']} {fault['practise']}".lower())
    words = set(re.findall(r"[a-z-]+", text))
    assert words.isdisjoint({"wrong", "error", "mistake", "fault", "failed", "careless", "invalid", "datum", "transform", "slip"})


def _case(text: str) -> tuple[str, float]:
    found = CASE.fullmatch(text)
    assert found is not None, text
    return found["working"], float(evaluate(found["value"], {}, REAL))


def _rounds_to(value: float, text: str) -> bool:
    """The value rounds to the number printed at the end of a case."""
    found = CASE.fullmatch(text)
    assert found is not None
    digits, _, power = found["value"].partition("e")
    if "/" in digits:
        return value == pytest.approx(float(evaluate(digits, {}, REAL)))
    place = 10.0 ** (int(power or 0) - len(digits.partition(".")[2]))
    return abs(value - float(found["value"])) <= 0.5 * place * (1 + 1e-9)


def _or_nan(text: str, values: Mapping[str, float]) -> float:
    try:
        return float(evaluate(text, values, REAL))
    except ZeroDivisionError:
        return math.nan


def _numbers(data: Mapping[str, Any]) -> dict[str, float]:
    """Values of an example; a text is plain notation and may use letters given before it."""
    values: dict[str, float] = {}
    for name, value in data.items():
        values[name] = evaluate(value, values, REAL) if isinstance(value, str) else value
    return values
