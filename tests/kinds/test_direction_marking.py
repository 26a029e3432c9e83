"""Conventions, referral, reasons, faults and line reports of direction parts."""

import pickle
import tomllib

import pytest
from hypothesis import given as sampled
from hypothesis import settings
from hypothesis import strategies as st

from marker.kinds.direction import KIND
from marker.results import Outcome, PartResult
from marker.scheme.convention import Convention
from tests.kinds.direction_parts import ELECTRON, ION, PARTS, part


def mark(name: str, text: str) -> PartResult:
    return KIND.mark(PARTS[name], text.split("\n"), {})


# Conventions file 1.3 (two answers) and 1.5 switches 12 and 13; the rulings themselves are the switches' names.
TWO_ANSWERS = (
    ("zero", "left, right", 0.0),
    ("lowest", "left, right", 0.0),
    ("first", "left, right", 1.0),
    ("first", "right, left", 0.0),
    ("last", "left, right", 0.0),
    ("last", "right, left", 1.0),
    ("best", "right, left", 1.0),
    ("zero", "left, to the left, -x", 1.0),
)


@pytest.mark.parametrize(("ruling", "text", "expected"), TWO_ANSWERS)
def test_two_answers(ruling: str, text: str, expected: float) -> None:
    compiled = part(ELECTRON, rulings={"two_answers": ruling})
    assert KIND.mark(compiled, [text], {}).mark == expected


CROSSED_OUT = (
    ("if not replaced", "left - scrap that", 1.0),
    ("if not replaced", "left - scrap that - right", 0.0),
    ("never", "left - scrap that", 0.0),
    ("never", "~~left~~", 0.0),
    ("if not replaced", "~~left~~", 1.0),
    ("if not replaced", "~~right~~ left", 1.0),
    ("best", "left - scrap that - right", 1.0),
)


@pytest.mark.parametrize(("ruling", "text", "expected"), CROSSED_OUT)
def test_crossed_out(ruling: str, text: str, expected: float) -> None:
    compiled = part(ELECTRON, rulings={"crossed_out": ruling})
    assert KIND.mark(compiled, [text], {}).mark == expected


# A condition is no direction, "both times" is said of both, a change of mind takes no turn. Common practice, no source; the force on a
# current to the left in a field into the page is down the page by F = IL × B.
CLAUSES = (
    ("↓ both times", 1.0),
    ("down in both cases", 1.0),
    ("up both times", 0.0),
    ("down the page, and the same again when both are reversed", 1.0),
    ("down, when both are reversed still down", 1.0),
    ("up no sorry: down, and down again for the second", 1.0),
    ("up, up, sorry: down, down", 1.0),
    ("down, down, sorry: up, down", 0.0),
    ("down, reversed", 0.0),
    ("up - wait, current is left, so down\n(i) down (ii) down", 1.0),
    ("up - wait, current is left, so down\n(i) down (ii) up", 0.0),
    ("up - hang on, no\n(i) up (ii) down", 0.0),
    ("down, up", 0.0),
)


@pytest.mark.parametrize(("text", "expected"), CLAUSES)
def test_clauses_about_two_directions(text: str, expected: float) -> None:
    result = mark("both turned", text)
    assert (result.mark, result.referred) == (expected, False), result.awards


def test_one_mark_wants_both_and_two_marks_want_each() -> None:
    assert mark("ion and electron", "positive right, electron right").mark == 0.0
    assert mark("one mark each", "positive right, electron right").mark == 1.0
    awards = mark("one mark each", "positive right, electron right").awards
    assert [(a.point, a.mark, a.outcome) for a in awards] == [
        ("force on the positive ion", 1.0, Outcome.EARNED),
        ("force on the electron", 0.0, Outcome.NOT_EARNED),
    ]


def test_half_marks_where_the_convention_has_them() -> None:
    compiled = part(ION, ELECTRON, marks=1, points="each", convention=Convention(half_marks=True))
    assert KIND.mark(compiled, ["right, right"], {}).mark == 0.5


REASONS = (
    ("electron", "left", "Line 1: “left” for the force on the electron is right."),
    ("electron", "to the right", "Line 1: “right” for the force on the electron is not right; it is to the left."),
    (
        "electron",
        "\nat right angles to the field",
        "“at right angles” is true of more than one direction and does not say which way the force on the electron is.",
    ),
    (
        "electron",
        "left, right",
        "Line 1: “left” and “right” are both given for the force on the electron; two different directions earn nothing.",
    ),
    ("electron", "", "No direction is given for the force on the electron."),
    ("electron", "not right", "Line 1: it is said what the force on the electron is not, and no direction is stated."),
    ("wire along the field", "up", "Line 1: “up” for the force on the wire is not right; it is zero (no direction)."),
)  # fmt: skip


@pytest.mark.parametrize(("name", "text", "reason"), REASONS)
def test_reasons_are_sentences_that_quote_the_line(name: str, text: str, reason: str) -> None:
    assert mark(name, text).awards[0].reason == reason


FAULTS = (
    ("electron", "right", "direction-reversed", False),
    ("electron", "out of the page", "direction-along-datum", True),
    ("electron", "down", "direction-along-datum", True),
    ("electron", "sideways", "no-sense-of-direction", True),
    ("electron", "left, right", "two-directions", True),
    ("ion and electron", "left, right", "directions-exchanged", True),
    ("ion and electron", "both right", "charge-sign-ignored", False),
    ("ion and electron", "they are opposite", "only-relative", True),
    ("wire along the field", "up", "direction-where-none", True),
)


@pytest.mark.parametrize(("name", "text", "code", "sure"), FAULTS)
def test_faults(name: str, text: str, code: str, sure: bool) -> None:
    faults = mark(name, text).faults
    assert [(f.code, f.sure) for f in faults] == [(code, sure)]
    assert "{" not in faults[0].teacher + faults[0].student


@pytest.mark.parametrize("text", ["left", "", "idk", "positive right"])
def test_no_fault_is_named_without_a_wrong_direction(text: str) -> None:
    assert mark("electron", text).faults == ()


def test_a_referral_says_the_possibilities_and_what_each_is_worth() -> None:
    result = mark("electron", "towards the big coil")
    assert result.mark == 0.0
    assert result.awards[0].outcome is Outcome.REFERRED
    assert result.referral is not None
    assert [p.mark for p in result.referral.possibilities] == [0.0, 1.0]
    assert "towards the big coil"[:15] in result.referral.reason


def test_no_referral_where_the_mark_does_not_hang_on_it() -> None:
    """One direction is wrong for sure, so the unread one cannot change an all-or-nothing mark (design 7)."""
    assert mark("ion and electron", "positive ion left, electron towards the coil").referral is None


def test_every_typed_line_is_reported() -> None:
    result = mark("ion and electron", "Left hand rule\n\npositive up, hmm no\npositive right\nelectron left")
    assert [x.number for x in result.lines] == [1, 2, 3, 4, 5]
    assert [x.verdict for x in result.lines] == ["remark", "remark", "withdrawn", "right", "right"]
    assert result.lines[3].readings == ("force on the positive ion: to the right",)


def test_an_unread_response_is_an_unread_line() -> None:
    assert [x.verdict for x in mark("electron", "towards the window").lines] == ["unread"]


def test_a_response_longer_than_is_read_is_referred() -> None:
    assert mark("electron", "left " + "x" * 2000).referral is not None


def test_own_words_of_the_scheme() -> None:
    compiled = part({**ELECTRON, "also": ["towards the north pole", "towards plate Q"]})
    for text in ("towards the North pole", "it goes toward plate Q", "towrads plate q"):
        assert KIND.mark(compiled, [text], {}).mark == 1.0, text


def test_compiled_parts_travel_to_other_processes() -> None:
    again = pickle.loads(pickle.dumps(PARTS["ion and electron"]))
    assert KIND.mark(again, ["right, left"], {}) == mark("ion and electron", "right, left")


SAMPLE = """
left right up down into out of the page + - positive ion electron no not wait scrap that other way opposite to and , . ; : ( ) → ← ⊗ ~~
both respectively from towards away field current x 30 ° bearing clockwise seen above same vice versa would for on because so 0 1 =
"""
WORDS = st.sampled_from(SAMPLE.split())


@settings(max_examples=150, deadline=None, derandomize=True)
@sampled(st.lists(WORDS, max_size=25), st.sampled_from(sorted(PARTS)))
def test_any_row_of_words_gives_a_mark_within_bounds(words: list[str], name: str) -> None:
    result = mark(name, " ".join(words))
    assert 0 <= result.mark <= result.maximum
    assert result.mark == sum(a.mark for a in result.awards)
    if result.referral is not None:
        assert len({p.mark for p in result.referral.possibilities}) > 1


@settings(max_examples=150, deadline=None, derandomize=True)
@sampled(st.text(max_size=80), st.sampled_from(sorted(PARTS)))
def test_any_text_is_marked(text: str, name: str) -> None:
    result = mark(name, text)
    assert 0 <= result.mark <= result.maximum
    assert len(result.lines) == len(text.split("\n"))


@settings(max_examples=60, deadline=None, derandomize=True)
@sampled(st.sampled_from(["right, left", "positive right, electron left", "left, right", "ion up, electron down"]), st.data())
def test_spacing_and_case_change_nothing(text: str, data: st.DataObject) -> None:
    """Style companion 2.9: spacing has no effect on the mark."""
    spaced = "".join(c + " " * data.draw(st.integers(0, 2)) if c in " ," else c for c in text)
    assert mark("ion and electron", spaced.upper()).mark == mark("ion and electron", text).mark


SCHEME = """
name = "5c"
kind = "direction"
marks = 1
stem = "State the direction of the magnetic force on the positive ion and on the electron."
[[ask]]
of = "force on the positive ion"
names = ["positive ion", "positive", "+", "ion", "first"]
rule = "force on a charge"
charge = "positive"
velocity = "up the page"
field = "out of the page"
[[ask]]
of = "force on the electron"
names = ["electron", "-", "second"]
rule = "force on a charge"
charge = "negative"
velocity = "+y"
field = [0, 0, 1]
answer = "left"
"""


def test_a_scheme_as_it_stands_in_a_file() -> None:
    compiled = KIND.compile(KIND.spec.model_validate(tomllib.loads(SCHEME)), Convention())
    for text in ("right, left", "+ right, - left", "first right, second left", "electron left, ion right"):
        assert KIND.mark(compiled, [text], {}).mark == 1.0, text
    assert KIND.mark(compiled, ["first left, second right"], {}).mark == 0.0
