"""The goal on real answers: of what is decided without a person at least 95 in 100 are right, on questions nothing was tuned on.

Source: labels by people, SemEval-2013 Task 7 (README of the shared data). Skipped when the data are not there.
"""

import pytest

from tests.kinds.written.report import accuracy, unseen_answers, unseen_questions
from tests.kinds.written.splits import SHARED, WHY_SKIPPED, Question, questions

pytestmark = pytest.mark.skipif(not SHARED.exists(), reason=WHY_SKIPPED)


@pytest.fixture(scope="module")
def held_out() -> list[Question]:
    return [q for q in questions() if q.held_out]


def test_splits_are_apart(held_out: list[Question]) -> None:
    assert 10 <= len(held_out) <= 20
    for question in held_out:
        folds = question.folds()
        assert sum(len(f) for f in folds) == len(question.answers)
        assert len({id(a) for f in folds for a in f}) == len(question.answers)


def test_unseen_questions_with_reference_answers_only(held_out: list[Question]) -> None:
    found = unseen_questions(held_out)
    decided = [j for j in found if j.decided]
    assert accuracy(decided) >= 0.95
    assert len(decided) / len(found) >= 0.3
    assert accuracy(found) >= 0.75


def test_unseen_answers_after_the_others_are_settled(held_out: list[Question]) -> None:
    found = unseen_answers(held_out, None)
    decided = [j for j in found if j.decided]
    assert accuracy(decided) >= 0.95
    assert len(decided) / len(found) >= 0.42
    assert accuracy(found) >= 0.83
