"""What must hold for any answer: typing habits and order change nothing, true extras never cost, contradictions never pay."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from marker.kinds.written import KIND, group_key
from marker.kinds.written.part import WrittenPart
from marker.results import Outcome
from tests.kinds.written.table import MORE_PARTS, MORE_ROWS, PARTS, ROWS, Row, findings

ALL_PARTS = {**PARTS, **MORE_PARTS}
ALL_ROWS = (*ROWS, *MORE_ROWS)
UNRELATED = ("Copper is a metal.", "The year has twelve months.", "A kilogram is a thousand grams.", "Rain fell in the garden on Tuesday.")


def _mark(part: WrittenPart, typed: str) -> float:
    return KIND.mark(part, typed.split("\n"), {}).mark


def _retyped(text: str) -> tuple[str, ...]:
    spaced = re.sub(r" +", "   ", text)
    return (text.upper() if not re.search(r"[A-Z]\b|∝|=", text) else text, text + ".", "  " + spaced + " ", text.replace(". ", ".\n"))


@pytest.mark.parametrize("row", ALL_ROWS, ids=str)
def test_case_spacing_full_stops_and_line_ends_change_nothing(row: Row) -> None:
    part = ALL_PARTS[row.part]
    for typed in _retyped(row.typed):
        assert _mark(part, typed) == _mark(part, row.typed), typed


@pytest.mark.parametrize("row", [r for r in ALL_ROWS if r.typed.count(". ") and " it " not in f" {r.typed.lower()} "], ids=str)
def test_the_order_of_sentences_changes_nothing(row: Row) -> None:
    """Sentences that hang on the one before (it, them) are left out of this."""
    sentences = [s.strip(" .") for s in row.typed.split(". ")]
    if any(re.search(r"\b(then|them|this|they|its)\b", s.lower()) for s in sentences):
        pytest.skip("a sentence refers to the one before")
    part = ALL_PARTS[row.part]
    assert _mark(part, ". ".join(reversed(sentences))) == _mark(part, row.typed)


@pytest.mark.parametrize("row", ALL_ROWS, ids=str)
def test_an_unrelated_true_sentence_never_costs(row: Row) -> None:
    """CCEA: neutral extras are ignored. Where the list rule counts points, nothing unrelated is neutral."""
    part = ALL_PARTS[row.part]
    if part.wants is not None:
        pytest.skip("the list rule counts what is offered")
    before = findings(part, row.typed)
    for extra in UNRELATED:
        after = findings(part, f"{row.typed}. {extra}")
        assert [f.earned for f in after] >= [f.earned for f in before]
        assert all(a.earned or not b.earned for a, b in zip(after, before, strict=True)), extra


@pytest.mark.parametrize("row", ALL_ROWS, ids=str)
def test_a_contradiction_never_pays(row: Row) -> None:
    """OCR19: no mark if the response contradicts itself. The scheme's own cancelling wordings are added one by one."""
    part = ALL_PARTS[row.part]
    before = findings(part, row.typed)
    for n, idea in enumerate(part.ideas):
        for wording in idea.contradicts:
            after = findings(part, f"{row.typed}. {wording.text}")
            assert not (after[n].earned and not before[n].earned), wording.text


@pytest.mark.parametrize("part", ALL_PARTS.values(), ids=lambda p: p.name)
def test_a_cancelling_wording_alone_is_not_earned(part: WrittenPart) -> None:
    for n, idea in enumerate(part.ideas):
        for wording in idea.contradicts:
            assert findings(part, wording.text)[n].outcome is Outcome.NOT_EARNED, wording.text


WORDS = """
not no the of force current increases decreases zero in phase fission fusion ∝ = x V 0 , . ; ~~ ignore that or and because
"""
words = st.sampled_from(tuple(WORDS.split()))


@given(st.one_of(st.text(max_size=300), st.lists(words, max_size=40).map(" ".join)))
@settings(max_examples=150, deadline=None, derandomize=True)
def test_any_text_gets_a_mark_between_none_and_all(typed: str) -> None:
    for name in ("1", "2", "8", "10", "12"):
        result = KIND.mark(PARTS[name], typed.split("\n"), {})
        assert 0 <= result.mark <= result.maximum
        assert sum(a.mark for a in result.awards) == result.mark
        assert len(result.lines) == len(typed.split("\n"))
        if result.referral:
            assert len({p.mark for p in result.referral.possibilities}) > 1
        assert KIND.mark(PARTS[name], typed.split("\n"), {}) == result
    assert group_key(typed) == group_key(typed)


@pytest.mark.parametrize(
    "typed", ("not " * 5_000, "increase " * 3_000, "a" * 100_000, "((((" * 4_000, "∝=" * 5_000, "no, " * 4_000, "~~" * 3_000, "\n" * 500)
)
def test_overlong_text_is_cut_or_referred(typed: str) -> None:
    result = KIND.mark(PARTS["10"], typed.split("\n"), {})
    assert result.mark == 0


def test_a_right_answer_buried_in_an_overlong_text_goes_to_a_person() -> None:
    result = KIND.mark(PARTS["10"], ["extension is proportional to force"] + ["filler words here again"] * 200, {})
    assert result.referral is not None
