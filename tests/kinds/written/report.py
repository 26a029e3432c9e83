"""Accuracy against the share decided, on the shared electricity answers: python -m tests.kinds.written.report

(a) unseen questions: held-out questions, reference answers only; (b) unseen answers: after a teacher has settled some of a question's
answers, on development and on held-out questions. The data are not part of the package; nothing of them is printed but counts.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from marker.kinds.written import KIND, WrittenSpec
from marker.kinds.written.judge import judge
from marker.kinds.written.part import WrittenPart
from marker.kinds.written.prose import read
from marker.results import Outcome
from marker.scheme.convention import Convention
from tests.kinds.written.splits import SHARED, WHY_SKIPPED, Answer, Question, questions

SHARES = (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0)
SETTLED = (10, 20, 40, None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One answer: its label and what the engine made of it. `sure` is the distance of the likelihood from one half."""

    label: str
    proposed: bool
    decided: bool
    sure: float
    contradiction: bool

    @property
    def right(self) -> bool:
        return self.proposed == (self.label == "correct")

    @property
    def three_way(self) -> str:
        return "correct" if self.proposed else "contradictory" if self.contradiction else "incorrect"


def compiled(question: Question, settled: Sequence[Answer] = ()) -> WrittenPart:
    part = KIND.compile(WrittenSpec.model_validate(question.part(settled)), Convention())
    assert isinstance(part, WrittenPart)
    return part


def judged(part: WrittenPart, answer: Answer) -> Judged:
    lines = answer.text.split("\n")
    result = KIND.mark(part, lines, {})
    finding = judge(part.ideas[0], read(tuple(lines), part.known), part)
    outcome = result.awards[0].outcome
    settled = result.awards[0].reason.startswith("As a teacher")
    return Judged(
        label=answer.label,
        proposed=result.mark > 0,
        decided=outcome is not Outcome.REFERRED,
        sure=1.0 if settled else abs(finding.likelihood - 0.5) * 2,
        contradiction=finding.contradiction,
    )


def unseen_questions(of: Iterable[Question]) -> list[Judged]:
    return [judged(part, a) for q in of for part in (compiled(q),) for a in q.answers]


def unseen_answers(of: Iterable[Question], count: int | None, folds: int = 5) -> list[Judged]:
    found = []
    for question in of:
        parts = question.folds(folds)
        for k, unseen in enumerate(parts):
            rest = [a for n, p in enumerate(parts) if n != k for a in p]
            part = compiled(question, rest[:count])
            found += [judged(part, a) for a in unseen]
    return found


def accuracy(of: Sequence[Judged]) -> float:
    return sum(j.right for j in of) / len(of) if of else float("nan")


def curve(of: Sequence[Judged]) -> str:
    """Two-way accuracy among the surest share."""
    ordered = sorted(of, key=lambda j: -j.sure)
    return "  ".join(f"{s:.0%}:{accuracy(ordered[: max(1, round(s * len(ordered)))]):.3f}" for s in SHARES)


def macro_f1(pairs: Sequence[tuple[str, str]]) -> float:
    """Mean of the F1 of each label; pairs are (label, found)."""
    scores = []
    for label in sorted({p[0] for p in pairs}):
        hits = sum(a == b == label for a, b in pairs)
        claimed, there = sum(b == label for _, b in pairs), sum(a == label for a, _ in pairs)
        scores.append(2 * hits / (claimed + there) if claimed + there else 0.0)
    return sum(scores) / len(scores)


def summary(title: str, of: Sequence[Judged]) -> str:
    decided = [j for j in of if j.decided]
    earned, refused = [j for j in decided if j.proposed], [j for j in decided if not j.proposed]
    two = [("correct" if j.label == "correct" else "not", "correct" if j.proposed else "not") for j in of]
    three = [(j.label, j.three_way) for j in of]
    right = sum(a == b for a, b in three) / len(three)
    kinds = f"earned {len(earned)}: {accuracy(earned):.3f}, not earned {len(refused)}: {accuracy(refused):.3f}"
    return "\n".join(
        (
            f"{title}: {len(of)} answers",
            f"  decided {len(decided) / len(of):.1%}, right {accuracy(decided):.3f} ({kinds})",
            f"  all, as proposed: two-way accuracy {accuracy(of):.3f}, macro F1 {macro_f1(two):.3f}",
            f"                    three-way accuracy {right:.3f}, macro F1 {macro_f1(three):.3f}",
            f"  surest share: {curve(of)}",
        )
    )


def main() -> None:
    if not SHARED.exists():
        sys.exit(WHY_SKIPPED)
    held = [q for q in questions() if q.held_out]
    development = [q for q in questions() if not q.held_out]
    print(summary("(a) unseen questions (held out), reference answers only", unseen_questions(held)))
    print(summary("    the same on the development questions (weights were fitted to these)", unseen_questions(development)))
    for count in SETTLED:
        some = "all others (four fifths)" if count is None else str(count)
        print(summary(f"(b) unseen answers, held-out questions, settled per question: {some}", unseen_answers(held, count)))
    print(summary("    the same on the development questions, settled: all others", unseen_answers(development, None)))


if __name__ == "__main__":
    main()
