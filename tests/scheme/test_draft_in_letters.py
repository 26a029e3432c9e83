"""Questions answered in letters become parts of their own kinds. Questions invented; common practice, no source."""

from __future__ import annotations

import pytest

from marker.scheme.checking import check_paper
from marker.scheme.draft import Question, draft_questions
from marker.scheme.draft.document import questions_of
from marker.scheme.paper import build_paper

DERIVED, REARRANGED = "derivation", "rearrangement"
ROWS = (
    ("Show that a charge moves on a circle of radius r = mv/(Bq).", "F = Bqv; F = mv²/r; Bqv = mv²/r; r = mv/(Bq)", DERIVED, 2),
    ("Prove that T² = 4π²r³/(GM).", "GMm/r² = mv²/r; v = 2πr/T; GM/r = 4π²r²/T²; T² = 4π²r³/(GM)", DERIVED, 2),
    ("Derive v = √(2qV/m) for a charge that starts from rest.", "qV = ½mv²; v² = 2qV/m; v = √(2qV/m)", DERIVED, 1),
    ("Make v the subject of E = ½mv².", "2E = mv²; v² = 2E/m; v = √(2E/m)", REARRANGED, 1),
    ("Rearrange P = I²R to find I.", "I² = P/R; I = √(P/R)", REARRANGED, 1),
    ("A sphere has the volume V = 4/3πR³. Make R the subject.", "R³ = 3V/(4π); R = ∛(3V/(4π))", REARRANGED, 1),
    ("Express g in terms of T and l for a pendulum, T = 2π√(l/g).", "T² = 4π²l/g; g = 4π²l/T²", REARRANGED, 1),
)


@pytest.mark.parametrize(("stem", "answer", "kind", "starts"), ROWS, ids=[r[0] for r in ROWS])
def test_the_kind_and_its_equations(stem: str, answer: str, kind: str, starts: int) -> None:
    draft = draft_questions([Question(name="1", stem=stem, lines=tuple(answer.split("; ")))], "letters")
    (part,) = draft.parts
    assert (part.spec["kind"], len(part.spec["using"])) == (kind, starts)
    assert part.remarks
    assert check_paper(build_paper(draft.table)).passes


def test_a_show_that_with_data_stays_a_calculation() -> None:
    question = Question(
        name="1", stem="Show that the resistance of a lamp with 6.0 V and 0.50 A is R = 12 Ω.", lines=("R = V/I", "R = 6.0/0.50 = 12 Ω")
    )
    (part,) = draft_questions([question], "lamp").parts
    assert part.spec.get("kind", "calculation") == "calculation"


def test_a_short_question_with_an_equation_is_no_working() -> None:
    pasted = ["1. Rearrange P = I²R to find I. (1)", "I = √(P/R)", "2. Make v the subject of E = ½mv². (2 marks)", "v = √(2E/m)"]
    assert [(q.name, q.stem, q.marks, len(q.lines)) for q in questions_of(pasted)] == [
        ("1", "Rearrange P = I²R to find I.", 1, 1),
        ("2", "Make v the subject of E = ½mv².", 2, 1),
    ]
