"""Fits rubrics/written_weights.toml anew to the development questions: python -m tests.kinds.written.fit > rubrics/written_weights.toml

Weights come from all development questions; thresholds from answers to questions of other families than the weights were fitted to.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass

from marker.kinds.written.evidence import logistic, nearest_wording
from marker.kinds.written.learning import Settled, fit, key, learn, response_traits, witnesses
from marker.kinds.written.match import stretches
from marker.kinds.written.model import Prose
from marker.kinds.written.part import WrittenPart, compile_part
from marker.kinds.written.prose import read
from marker.kinds.written.spec import WrittenSpec
from marker.scheme.convention import Convention
from tests.kinds.written.splits import SHARED, WHY_SKIPPED, Answer, Question, questions

Row = dict[str, float]
FOLDS = 5
SETTLED_COUNTS = (None, 40, 20, 10)
RIGHT_OF_EARNED = 0.95
RIGHT_OF_NOT_EARNED = {"wordings": 0.985, "settled": 0.98}
ABSENT, ABSENT_IDEA = 0.12, 0.2
"""Of development answers that say no wording by half, or deny one: likelihood below 0.1, 1 in 100 were correct; below 0.2, 2 to 3."""


@dataclass(frozen=True)
class Rule:
    constant: float
    weight: Row

    def odds(self, row: Row) -> float:
        return self.constant + sum(w * row[k] for k, w in self.weight.items())


@dataclass(frozen=True)
class Case:
    question: Question
    answer: Answer
    prose: Prose
    rows: tuple[Row, ...]


def cases(question: Question) -> list[Case]:
    part = compile_part(WrittenSpec.model_validate(question.part()), Convention(), ())
    return [_case(question, a, part) for a in question.answers]


def _case(question: Question, answer: Answer, part: WrittenPart) -> Case:
    prose = read(tuple(answer.text.split("\n")), part.known)

    lexicon = part.known.lexicon
    best = (nearest_wording(part.ideas[0].samples, prose, items, part.used, lexicon)[1] for items in stretches(prose))
    return Case(question, answer, prose, tuple(asdict(e) for e in best))


def fitted(rows: Sequence[Row], labels: Sequence[bool], penalty: float) -> Rule:
    """A logistic rule fitted on features brought to one scale, written back in their own."""
    names = list(rows[0])
    mean = {k: sum(r[k] for r in rows) / len(rows) for k in names}
    spread = {k: math.sqrt(sum((r[k] - mean[k]) ** 2 for r in rows) / len(rows)) or 1.0 for k in names}
    scaled = [{k: (r[k] - mean[k]) / spread[k] for k in names} for r in rows]
    constant, weight = fit(scaled, [float(x) for x in labels], penalty, 300)
    return Rule(constant - sum(weight[k] * mean[k] / spread[k] for k in names), {k: weight[k] / spread[k] for k in names})


def folds(families: Iterable[str]) -> list[set[str]]:
    ordered = sorted(set(families))
    return [set(ordered[k::FOLDS]) for k in range(FOLDS)]


def odds_by_fold(all_cases: Sequence[Case], make: Callable[[Sequence[Case]], Rule]) -> dict[int, float]:
    """Case -> log-odds by a rule fitted to other families."""
    found: dict[int, float] = {}
    for fold in folds(c.question.family for c in all_cases):
        rule = make([c for c in all_cases if c.question.family not in fold])
        found.update({id(c): max(rule.odds(r) for r in c.rows) for c in all_cases if c.question.family in fold})
    return found


def wording_rule(of: Sequence[Case]) -> Rule:
    return fitted([c.rows[0] for c in of], [c.answer.correct for c in of], penalty=100.0)


def taught_rows(
    development: Sequence[Question], by_question: dict[str, list[Case]], odds: dict[int, float]
) -> list[tuple[Question, Row, bool]]:
    """What settled answers say about unseen ones, for several numbers of settled answers."""
    rows = []
    for question in development:
        at = {id(c.answer): c for c in by_question[question.name]}
        parts = question.folds(FOLDS)
        for k, unseen in enumerate(parts):
            rest = [a for n, p in enumerate(parts) if n != k for a in p]
            for count in SETTLED_COUNTS:
                known = learn([_settled(at[id(a)], odds) for a in rest[:count]])
                rows += [(question, witnesses(known, at[id(a)].prose, odds[id(at[id(a)])]), a.correct) for a in unseen]
    return rows


def _settled(case: Case, odds: dict[int, float]) -> Settled:
    return Settled(key=key(case.prose), traits=response_traits(case.prose), given=case.answer.correct, evidence=odds[id(case)])


def thresholds(name: str, scored: Sequence[tuple[float, bool]]) -> tuple[float, float]:
    """The lowest probability from which on enough are right when earned, and the highest up to which enough are right when not."""
    earned = _edge(sorted(scored, reverse=True), True, RIGHT_OF_EARNED)
    not_earned = _edge(sorted(scored), False, RIGHT_OF_NOT_EARNED[name])
    return earned, not_earned


def _edge(scored: Sequence[tuple[float, bool]], wanted: bool, share: float) -> float:
    right, edge = 0, 1.0 if wanted else 0.0
    for n, (p, label) in enumerate(scored, 1):
        right += label == wanted
        if n >= 50 and right / n >= share:
            edge = p
    return edge


def written(name: str, rule: Rule, edges: tuple[float, float], about: str) -> str:
    absent = ABSENT if name == "wordings" else edges[1]
    rows = {
        "constant": rule.constant,
        "earned": edges[0],
        "not_earned": edges[1],
        "absent": absent,
        "absent_idea": max(absent, ABSENT_IDEA if name == "wordings" else 0.0),
    }
    lines = [f"# {about}", f"[{name}]", *(f"{k} = {v:.3f}" for k, v in rows.items()), f"[{name}.weight]"]
    return "\n".join([*lines, *(f"{k} = {v:.3f}" for k, v in rule.weight.items()), ""])


def main() -> None:
    if not SHARED.exists():
        sys.exit(WHY_SKIPPED)
    development = [q for q in questions() if not q.held_out]
    by_question = {q.name: cases(q) for q in development}
    every = [c for q in development for c in by_question[q.name]]
    odds = odds_by_fold(every, wording_rule)
    first = thresholds("wordings", [(logistic(odds[id(c)]), c.answer.correct) for c in every])
    print(HEAD)
    print(written("wordings", wording_rule(every), first, ABOUT_WORDINGS))
    rows = taught_rows(development, by_question, odds)
    scored = []
    for fold in folds(q.family for q in development):
        rule = fitted([r for q, r, _ in rows if q.family not in fold], [y for q, _, y in rows if q.family not in fold], penalty=1.0)
        scored += [(logistic(rule.odds(r)), y) for q, r, y in rows if q.family in fold]
    rule = fitted([r for _, r, _ in rows], [y for _, _, y in rows], penalty=1.0)
    print(written("settled", rule, thresholds("settled", scored), ABOUT_SETTLED), end="")


ABOUT_WORDINGS = "from sample wordings alone; features are described in marker/kinds/written/evidence.py"
ABOUT_SETTLED = "with settled responses; features are described in marker/kinds/written/learning.py"
HEAD = """# How evidence about a written answer is weighed: a logistic rule, constant + sum of weight × feature.
# A point is earned at a probability of `earned` or more, not earned at `not_earned` or less, and referred in between.
# Fitted by tests/kinds/written/fit.py to marked answers that are not part of the package (see the README of the shared data);
# only these sums of thousands of answers are kept. Raise `earned` or lower `not_earned` to refer more.
"""

if __name__ == "__main__":
    main()
