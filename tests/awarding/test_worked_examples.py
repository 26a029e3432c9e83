"""Published worked examples: the model answer earns full marks, each typical slip on it costs what the convention says.

The convention is the positive three-mark one: relationship, substitution, answer with its unit. The cost of each slip has its source
beside it; wrong values are worked out here, from the numbers as typed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from marker.marking import mark_response
from marker.scheme.paper import CompiledPart
from tests.awarding.parts import one_part
from tests.awarding.worked_examples import EXAMPLES, Example


@dataclass(frozen=True)
class Case:
    example: Example
    slip: str
    lines: tuple[str, ...]
    marks: float
    source: str

    def __str__(self) -> str:
        return f"{self.example.name}: {self.slip}"


def _number(text: str) -> float:
    plain = text.translate(str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")).replace(" ", "")
    mantissa, _, power = plain.replace("×10", "x10").replace("x10^", "x10").partition("x10")
    return float(mantissa) * 10.0 ** float(power) if power else float(mantissa)


def _typed(value: float, figures: int) -> str:
    """A number as a person types it."""
    text = f"{value:.{figures - 1}e}"
    mantissa, _, power = text.partition("e")
    if -3 <= int(power) < figures:
        return f"{value:.{max(0, figures - 1 - int(power))}f}"
    return f"{mantissa} x 10^{int(power)}"


def _line(e: Example, state: str, put: str, numbers: dict[str, str], value: float, unit: str) -> str:
    return f"{state} = {put.format(**numbers)} = {_typed(value, e.figures)} {unit}".rstrip()


def _cases(e: Example) -> Iterator[Case]:
    si = dict(e.si)
    floats = {n: _number(t) for n, t in si.items()}
    right = e.value(**floats)

    def case(slip: str, lines: tuple[str, ...], marks: float, source: str) -> Case:
        return Case(e, slip, lines, marks, source)

    full = _line(e, e.state, e.put, si, right, e.unit)
    yield case("model answer", (full,), 3, "AH2022")
    yield case("answer alone", (f"{_typed(right, e.figures)} {e.unit}",), 3, "AH2022")
    yield case("unit left off", (_line(e, e.state, e.put, si, right, ""),), 2, "AH2018; rows 3 and 10")
    yield case("arithmetic", (_line(e, e.state, e.put, si, right * 1.37, e.unit),), 2, "US-N5; row 6")
    yield case("no final answer", (f"{e.state} = {e.put.format(**si)}",), 2, "from memory; row 9")
    yield case("relationship alone", (e.state,), 1, "from memory; row 8")
    symbol, text = e.copied
    copied = e.value(**{**floats, symbol: _number(text)})
    yield case("digits exchanged or copied wrongly", (_line(e, e.state, e.put, {**si, symbol: text}, copied, e.unit),), 1, "AH2018; row 12")
    state, put, value = e.wrong
    wrong = value(**floats)
    yield case("wrong relationship", (_line(e, state, put, si, wrong, e.unit),), 0, "from memory; row 13")
    if e.raw is not None:
        symbol, text = e.raw
        raw = e.value(**{**floats, symbol: _number(text)})
        line = _line(e, e.state, e.put, {**si, symbol: text}, raw, e.unit)
        yield case("unit not converted", (line,), 2, "from memory (conversion_fault = answer mark)")
    if e.first is not None:
        stated, numbers = e.first
        yield case("rearranged wrongly in symbols", (stated, _line(e, state, put, si, wrong, e.unit)), 1, "from memory; row 15")
        answer = f"{e.find} = {_typed(wrong, e.figures)} {e.unit}"
        yield case("rearranged wrongly in numbers", (stated, numbers.format(**si), answer), 2, "from memory; row 14")


CASES = [case for example in EXAMPLES for case in _cases(example)]


def _part(e: Example) -> CompiledPart:
    return one_part(given=dict(e.given), find=e.find, unit=e.unit, using=[e.using], names=dict(e.names), stem="")


@pytest.mark.parametrize("case", CASES, ids=str)
def test_slip(case: Case) -> None:
    result = mark_response(_part(case.example), case.lines)
    assert result.mark == case.marks, (case.lines, [f"{a.point}: {a.reason}" for a in result.awards])


@pytest.mark.parametrize("example", EXAMPLES, ids=str)
def test_the_answer_is_the_printed_one(example: Example) -> None:
    part = _part(example)
    goal = part.compiled.goals[0]
    assert f"{goal.value:.{example.figures - 1}e}" == f"{example.printed:.{example.figures - 1}e}" or abs(
        goal.value / example.printed - 1
    ) < 0.5 * 10.0 ** (1 - example.figures), example.source
    assert mark_response(part, part.kind.model(part.compiled)).mark == 3


def test_enough_examples_from_enough_sources() -> None:
    assert len(EXAMPLES) >= 24
    assert len({e.source.split(":")[0] for e in EXAMPLES}) >= 3
    assert len(CASES) >= 240
