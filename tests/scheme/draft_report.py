"""How well model answers become schemes, measured on published worked examples: python -m tests.scheme.draft_report

Examples: OpenStax, College Physics 2e (CC BY 4.0), as typed lines, which lie outside this repository; the report says so
when they are absent. Counted are the examples whose solution uses a relationship of the sheets. One is good when the
drafted scheme passes `check` and gives the book's own lines (strategy and solution) full marks, nothing referred.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from marker.marking import mark_candidate
from marker.scheme.checking import check_paper
from marker.scheme.draft import Question, draft_questions, sheets_used
from marker.scheme.paper import build_paper

CORPUS = Path(__file__).resolve().parents[3] / "shared" / "corpus" / "worked_examples.jsonl"
GOOD = "good"


@dataclass(frozen=True)
class Outcome:
    """What became of one example: "good", or the cause; the marks the book's lines earn, and the sheet relationships used."""

    example: str
    cause: str
    mark: float = 0
    maximum: float = 0
    sheets: tuple[str, ...] = ()
    detail: str = ""


def examples() -> Iterator[dict[str, Any]]:
    with CORPUS.open(encoding="utf-8") as file:
        yield from (json.loads(line) for line in file)


def question_of(example: dict[str, Any]) -> Question:
    lines = [x if isinstance(x, str) else x["text"] for x in (*example.get("strategy", ()), *example["lines"])]
    return Question(name="1", stem=example["problem"], lines=tuple(lines))


def outcome(example: dict[str, Any]) -> Outcome:
    """Drafts one example, proves the scheme and marks the book's lines with it."""
    question = question_of(example)
    name = f"{example['id']} {example['title']}"
    sheets = sheets_used(question)
    draft = draft_questions([question], "worked example")
    if not draft.parts:
        return Outcome(name, f"not drafted: {draft.not_drafted[0][1]}", sheets=sheets)
    paper = build_paper(draft.table)
    results = mark_candidate(paper, {str(p.spec["name"]): p.lines for p in draft.parts})
    mark, maximum = sum(r.mark for r in results), sum(r.maximum for r in results)
    sheets = sheets or tuple(s for p in draft.parts for s in p.sheets)
    if any(r.referral for r in results):
        return Outcome(name, "a line could not be read, and the response is referred", mark, maximum, sheets)
    if mark < maximum:
        lost = [a for r in results for a in r.awards if a.mark < a.maximum]
        kind, why = (lost[0].kind, lost[0].reason) if lost else ("", "; ".join(n for r in results for n in r.notes))
        return Outcome(name, f"the book's lines lose a {kind or 'further'} mark", mark, maximum, sheets, why)
    proof = check_paper(paper)
    if not proof.passes:
        why = "; ".join(r.problem.sentence() for r in proof.remarks if r.fails)
        return Outcome(name, "the scheme does not pass check", mark, maximum, sheets, why)
    return Outcome(name, GOOD, mark, maximum, sheets)


def outcomes(every: int = 1) -> list[Outcome]:
    """Outcomes of the examples that use a sheet relationship; `every` takes each n-th example only."""
    found = (outcome(e) for i, e in enumerate(examples()) if i % every == 0)
    return [o for o in found if o.sheets]


def main(arguments: list[str]) -> int:
    if not CORPUS.exists():
        print("The worked examples are not here; nothing to measure.")
        return 0
    found = outcomes(int(arguments[0]) if arguments else 1)
    causes = Counter(o.cause for o in found)
    print(f"{len(found)} examples use a relationship of the sheets; {causes[GOOD]} good, {100 * causes[GOOD] / len(found):.0f} %.")
    for cause, count in causes.most_common():
        if cause != GOOD:
            print(f"{count:4d}  {cause}")
    for o in found:
        if o.cause != GOOD:
            print(f"- {o.example}: {o.cause} ({o.mark:g} of {o.maximum:g}). {o.detail[:200]}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
