"""A part with freshly drawn numbers: the model answer still earns full marks, and the question stays sensible.

What is sensible is common practice, no source; the answers are worked out here with plain arithmetic, apart from the package.
The schemes are those of the development sets and of a scenario of our own, an ice house on a lake.
"""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Callable
from functools import cache

import pytest

from marker import build_paper, mark_response
from marker.reading import read_quantity
from marker.scheme.calculation import CalculationPart
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.paper import Paper
from marker.scheme.redraw import numbers_in, renumbered, replaced
from marker.scheme.vary import Varied, vary

SCHEME = """
[paper]
title = "The ice house"
[paper.data]
g = ["9.81 N/kg", "9.8 N/kg"]

[[part]]
name = "sledge"
marks = 3
stem = "A sledge of mass 245 kg is pulled with 380 N at 25° to the ice. Find the work done over 18 m."
given = { F = "380 N", s = "18 m", "θ" = "25°", m = "245 kg" }
find = "W"
using = ["W = F*s*cos(θ)"]

[[part]]
name = "heater"
marks = 3
stem = "The heater takes 1.8 kW from a 230 V supply. Find the current."
given = { P = "1.8 kW", V = "230 V" }
find = "I"
using = ["P = I*V"]

[[part]]
name = "cable"
marks = 3
stem = "The supply of the heater also lights a lamp; the same current is in the cable of resistance 0.40 Ω. Find the drop."
given = { R = "0.40 Ω" }
carry = { I = "heater" }
find = "V"
using = ["V = I*R"]

[[part]]
name = "fall"
marks = 3
stem = "A block slides from rest to 6.4 m/s over 12 m. Find its acceleration."
given = { u = "0 m/s", v = "6.4 m/s", s = "12 m" }
find = "a"
using = ["v^2 = u^2 + 2*a*s"]

[[part]]
name = "window"
marks = 3
stem = "Light meets the window at 47°. Its refractive index is 1.52. Find the angle of refraction."
given = { "θ_1" = "47°", n = "1.52" }
find = "θ_2"
using = ["n = sin(θ_1)/sin(θ_2)"]

[[part]]
name = "melting"
marks = 3
stem = "Find the heat that warms 2.4 kg of water from 0 °C to 15 °C."
given = { m = "2.4 kg", c = "4180 J/(kg K)", "θ_0" = "0 °C", "θ_1" = "15 °C" }
find = "Q"
using = ["Q = m*c*(θ_1 - θ_0)"]

[[part]]
name = "electron"
marks = 3
stem = "Find the speed of an electron with 2.40 × 10^-17 J of kinetic energy."
given = { E = "2.40 × 10^-17 J", m = "9.11e-31 kg" }
find = "v"
using = ["E = 1/2*m*v^2"]

[[part]]
name = "wheel"
marks = 2
stem = "A wheel of diameter 3.8 m turns once in 2.6 s. Show that its rim moves at about 4.6 m/s."
given = { d = "3.8 m", T = "2.6 s" }
find = "v"
show = "4.6 m/s"
using = ["v = π*d/T"]

[[part]]
name = "twins"
marks = 3
stem = "Two resistors of 15 Ω are in series with 6.0 V. Find the current."
given = { R_1 = "15 Ω", R_2 = "15 Ω", V = "6.0 V" }
find = "I"
also = ["R = R_1 + R_2"]
using = ["V = I*R"]

[[part]]
name = "bare"
marks = 3
stem = "Find the resistance."
given = { V = "27.6 V", I = "64 mA" }
find = "R"
using = ["V = I*R"]

[[part]]
name = "field"
kind = "direction"
marks = 1
stem = "A wire carries a current to the right in a field out of the page. Which way is the force?"
ask = [{ of = "force on the wire", rule = "force on a current", current = "right", field = "out of the page" }]
"""

DRAWS = tuple(range(1, 13))


@cache
def paper() -> Paper:
    return build_paper(tomllib.loads(SCHEME))


def si(drawn: Varied, symbol: str) -> float:
    return read_quantity(dict(drawn.data)[symbol]).si


def answer(drawn: Varied) -> float:
    assert isinstance(drawn.part.compiled, CompiledCalculation)
    return drawn.part.compiled.goals[0].value


# part, and its answer by plain arithmetic from the values drawn
ANSWERS: tuple[tuple[str, Callable[[Varied], float]], ...] = (
    ("sledge", lambda d: si(d, "F") * si(d, "s") * math.cos(si(d, "θ"))),
    ("heater", lambda d: si(d, "P") / si(d, "V")),
    ("cable", lambda d: si(d, "I") * si(d, "R")),
    ("fall", lambda d: si(d, "v") ** 2 / (2 * si(d, "s"))),
    ("window", lambda d: math.asin(math.sin(si(d, "θ_1")) / si(d, "n"))),
    ("melting", lambda d: si(d, "m") * 4180 * (si(d, "θ_1") - si(d, "θ_0"))),
    ("electron", lambda d: math.sqrt(2 * si(d, "E") / 9.11e-31)),
    ("wheel", lambda d: math.pi * si(d, "d") / si(d, "T")),
    ("bare", lambda d: si(d, "V") / si(d, "I")),
)


@pytest.mark.parametrize(("name", "worked"), ANSWERS, ids=[a[0] for a in ANSWERS])
def test_the_answer_is_that_of_the_numbers_drawn(name: str, worked: Callable[[Varied], float]) -> None:
    part = paper().part(name)
    drawn = [vary(part, n) for n in DRAWS]
    assert all(d.fresh for d in drawn)
    assert len({d.data for d in drawn}) > len(DRAWS) // 2
    for d in drawn:
        assert answer(d) == pytest.approx(worked(d), rel=1e-9)
        model = d.part.kind.model(d.part.compiled)
        result = mark_response(d.part, model)
        assert (result.mark, result.referred) == (part.marks, False), (d.data, model)


@pytest.mark.parametrize("name", [a[0] for a in ANSWERS])
def test_the_papers_own_numbers_no_longer_earn_the_answer(name: str) -> None:
    part = paper().part(name)
    model = part.kind.model(part.compiled)
    for n in DRAWS[:4]:
        drawn = vary(part, n)
        assert mark_response(drawn.part, model).mark < part.marks


@pytest.mark.parametrize("name", [a[0] for a in ANSWERS])
def test_figures_units_and_signs_stay(name: str) -> None:
    part = paper().part(name)
    before = dict(vary(part, 0).data)
    for n in DRAWS:
        for symbol, now in vary(part, n).data:
            was, is_now = read_quantity(before[symbol]), read_quantity(now)
            assert is_now.number.figures[1] == pytest.approx(was.number.figures[1], abs=1), (before[symbol], now)
            assert (was.unit.name if was.unit else "") == (is_now.unit.name if is_now.unit else "")
            assert was.si * is_now.si > 0 or was.si == is_now.si == 0
            assert was.si == 0 or 1 / 6 <= is_now.si / was.si <= 6


def test_the_stem_says_the_new_numbers_and_none_of_the_old() -> None:
    for name in ("sledge", "heater", "wheel", "window"):
        part = paper().part(name)
        for n in DRAWS:
            drawn = vary(part, n)
            numbers = {re.sub(r"[^\d.].*", "", v) for _, v in drawn.data}
            assert numbers <= set(numbers_in(drawn.stem)), drawn.stem
            moved = {v for _, v in vary(part, 0).data} - {v for _, v in drawn.data}
            assert not any(v in drawn.stem for v in moved), drawn.stem


HELD = (
    ("fall", "u", "0 m/s"),
    ("melting", "c", "4180 J/(kg K)"),
    ("melting", "θ_0", "0 °C"),
    ("electron", "m", "9.11e-31 kg"),
    ("twins", "R_1", "15 Ω"),  # "15 Ω" stands once in the stem for two values
    ("twins", "R_2", "15 Ω"),
)


@pytest.mark.parametrize(("name", "symbol", "value"), HELD, ids=[f"{h[0]} {h[1]}" for h in HELD])
def test_what_nature_or_the_question_fixes_stays(name: str, symbol: str, value: str) -> None:
    assert {dict(vary(paper().part(name), n).data)[symbol] for n in DRAWS} == {value}


def test_what_is_to_be_shown_is_what_comes_out() -> None:
    part = paper().part("wheel")
    for n in DRAWS:
        drawn = vary(part, n)
        assert isinstance(drawn.part.spec, CalculationPart)
        shown = read_quantity(drawn.part.spec.show).si
        assert shown == pytest.approx(math.pi * si(drawn, "d") / si(drawn, "T"), rel=0.05)
        assert drawn.part.spec.show.split()[0] in drawn.stem


def test_angles_stay_in_their_quadrant_and_indices_above_one() -> None:
    part = paper().part("window")
    for n in DRAWS:
        drawn = vary(part, n)
        assert 0 < si(drawn, "θ_1") < math.pi / 2
        assert 0 < answer(drawn) < si(drawn, "θ_1")
        assert 1.05 <= si(drawn, "n") < 2.5


def test_a_value_carried_from_another_part_is_given_when_alone() -> None:
    part = paper().part("cable")
    assert dict(vary(part, 0).data)["I"] == "7.83 A"  # 1800/230 = 7.826
    assert not vary(part, 0).fresh


def test_the_same_draw_gives_the_same_numbers() -> None:
    for part in paper().parts:
        assert vary(part, 7).data == vary(part, 7).data
    assert vary(paper().part("heater"), 7).data != vary(paper().part("heater"), 8).data


def test_a_kind_without_numbers_stays_as_it_is() -> None:
    drawn = vary(paper().part("field"), 5)
    assert (drawn.fresh, drawn.part, drawn.data) == (False, paper().part("field"), ())


# a quantity as typed, a value for its number, and how it is then typed
TYPED = (
    ("27.6 V", 31.42, "31.4 V"),
    ("64 mA", 104.6, "105 mA"),
    ("420 m", 583.0, "580 m"),
    ("0.085 m", 0.1234, "0.12 m"),
    ("5.0 Ω", 7.96, "8.0 Ω"),
    ("2.40 × 10^5 Pa", 3.111, "3.11 × 10^5 Pa"),
    ("2.40 × 10^5 Pa", 13.7, "9.90 × 10^5 Pa"),
    ("1.60e-19 C", 0.4, "1.00e-19 C"),
    ("18 500 J", 21_234, "21 200 J"),
    ("-0.30 m/s", 0.412, "-0.41 m/s"),
    ("3", 0.2, "1"),
    ("no number", 4.0, "no number"),
)


@pytest.mark.parametrize(("text", "value", "typed"), TYPED, ids=[t[0] for t in TYPED])
def test_a_number_is_typed_as_the_old_one_was(text: str, value: float, typed: str) -> None:
    assert renumbered(text, value) == typed


def test_numbers_are_exchanged_all_at_once_and_only_as_wholes() -> None:
    text = "From 12 to 21 with R12 and 12.5, 10^12 and 12."
    assert replaced(text, {"12": "21", "21": "12"}) == "From 21 to 12 with R12 and 12.5, 10^12 and 21."
