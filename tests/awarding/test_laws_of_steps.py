"""Laws of marking over several steps: own values carried on, relationships combined. Common practice, no source; invented numbers."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from hypothesis import given
from hypothesis import strategies as st

from marker.marking import mark_response
from marker.results import PartResult
from marker.scheme.paper import CompiledPart
from tests.awarding.parts import one_part
from tests.awarding.switch_rows import SETTINGS
from tests.awarding.test_laws import laws

M, G, H, T = 2.0, 9.8, 5.0, 0.40


def _first() -> Iterator[tuple[str, float | None]]:
    """A line for the energy, and the value it leaves the candidate with."""
    yield "", None
    yield f"E = mgh = 2.0 x 9.8 x 5.0 = {M * G * H:.0f} J", M * G * H
    yield "E = mgh = 2.0 x 9.8 x 5.0 = 89 J", 89.0
    yield "E = mgh = 2.0 x 9.8 x 3.0 = 58.8 J", 58.8
    yield "E = mh = 2.0 x 5.0 = 10 J", 10.0
    yield "E = 2.0 x 9.8 x 5.0 = 98", 98.0
    yield "E = 98 J", 98.0
    yield "E = 120 J", 120.0


def _second(energy: float | None) -> Iterator[str]:
    """A line for the power from the energy found; from the right one where none was."""
    own = M * G * H if energy is None else energy
    yield ""
    yield f"P = E/t = {own:g}/0.40 = {own / T:.3g} W"
    yield f"P = E/t = {own:g}/0.40 = {own / T:.3g}"
    yield f"P = E/t = {own:g}/0.40 = {1.4 * own / T:.3g} W"
    yield f"P = Et = {own:g} x 0.40 = {own * T:.3g} W"
    yield f"P = {own:g}/0.40"
    yield f"P = {own / T:.3g} W"


RESPONSES = [tuple(line for line in (one, two) if line) for one, energy in _first() for two in _second(energy)]
RIGHT = ("E = mgh", "E = 2.0 x 9.8 x 5.0", "E = mgh = 2.0 x 9.8 x 5.0 = 98 J", "P = E/t", "P = E/t = 98/0.40 = 245 W", "P = mgh/t")
COMBINED = ("P = mgh/t = 2.0 x 9.8 x 5.0/0.40 = 245 W", "mgh = Pt; 2.0 x 9.8 x 5.0 = P x 0.40; P = 245 W")


@lru_cache
def lift() -> CompiledPart:
    return one_part(**SETTINGS["lift"])


def marked(lines: tuple[str, ...]) -> PartResult:
    return mark_response(lift(), lines)


@laws
@given(lines=st.sampled_from(RESPONSES), added=st.sampled_from(RIGHT), place=st.integers(0, 2))
def test_a_correct_line_never_lowers_a_mark(lines: tuple[str, ...], added: str, place: int) -> None:
    at = min(place, len(lines))
    before, after = marked(lines), marked((*lines[:at], added, *lines[at:]))
    assert after.mark >= before.mark, [f"{a.point}: {a.reason}" for a in after.awards]


@laws
@given(lines=st.sampled_from(RESPONSES))
def test_marks_add_up_within_bounds(lines: tuple[str, ...]) -> None:
    result = marked(lines)
    assert 0 <= result.mark == sum(a.mark for a in result.awards) <= result.maximum


@laws
@given(lines=st.sampled_from(RESPONSES), spaced=st.booleans(), times=st.sampled_from(("*", " × ", "·", " \\times ")))
def test_notation_never_changes_a_mark(lines: tuple[str, ...], spaced: bool, times: str) -> None:
    other = tuple(line.replace(" x ", times) for line in lines)
    other = tuple(line.replace(" = ", "=") for line in other) if not spaced else other
    assert [a.mark for a in marked(other).awards] == [a.mark for a in marked(lines).awards], other


@laws
@given(one=st.sampled_from([line for line, _ in _first() if line]))
def test_the_first_step_marks_the_same_whatever_follows(one: str) -> None:
    """A fault in the second step touches no point of the first."""
    alone = [a.mark for a in marked((one,)).awards[:3]]
    for two in ("P = E/t", "P = 17 W", "P = Et = 98 x 0.40 = 39 W"):
        assert [a.mark for a in marked((one, two)).awards[:3]] == alone, (one, two)


def test_combined_relationships_credit_each() -> None:
    """`P = mgh/t` shows both relationships and both substitutions; the energy itself is not found."""
    for typed in COMBINED:
        result = marked(tuple(typed.split("; ")))
        assert [a.mark for a in result.awards] == [1, 1, 0, 1, 1, 1], [a.reason for a in result.awards]
