"""Whole worked examples read as a response is: which lines would look wrong though the book's are right?

    python -m tests.reading.worked_report            reading and arithmetic, every example
    python -m tests.reading.worked_report schemes    the same with drafted schemes, for those examples that one can be drafted of

Examples: OpenStax, College Physics 2e (CC BY 4.0), which lie outside this repository. A line listed as a slip, or the line after it,
which is compared with it, is no false wrong step.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from marker.marking import mark_candidate
from marker.scheme.draft import draft_questions
from marker.scheme.paper import build_paper
from tests.reading.corpus import FOLDER, examples, exceptions
from tests.reading.worked import WrongStep, wrong_steps

# what a person says of the examples that still show one
REASONS: Mapping[str, str] = {
    "m42121#fs-id2835209": "a remark with a number word, “(a trillion dollars)”, stands inside an expression",
    "m42152#fs-id1593379": "“$4.32 per month” is a price for each month, and the other side says nothing of months",
    "m42179#fs-id1468671": "R is the radius of the disk before and the distance of the child here",
    "m42205#fs-id1895376": "the book rounds 5.1 × 10^9 to 5.0 × 10^9",
    "m42217#fs-id1568374": "the book prints mol for mol^(-1)",
    "m42474#fs-id2837614": "R = 2|f| is negative in the book",
    "m42546#fs-id1493235": "A·h is worked with as C/s·h",
}


@dataclass(frozen=True, slots=True)
class Shown:
    """One example and the lines in it that would be called wrong."""

    example: str
    title: str
    steps: tuple[str, ...]


def lines_of(example: dict[str, Any]) -> list[str]:
    return [x if isinstance(x, str) else x["text"] for x in example["lines"]]


def slips_of_the_book(example: dict[str, Any]) -> frozenset[str]:
    """Lines listed as exceptions, and the line after each."""
    lines = lines_of(example)
    listed = {i for i, t in enumerate(lines) if (example["id"], t) in exceptions()}
    after = {i + 1 for i in listed if i + 1 < len(lines) and lines[i + 1][:1] in "=≈"}
    return frozenset(lines[i] for i in listed | after)


def by_reading(every: int = 1) -> tuple[int, list[Shown]]:
    """How many examples were read, and those with a false wrong step."""
    taken = examples()[::every]
    found = []
    for example in taken:
        slips = slips_of_the_book(example)
        steps: list[WrongStep] = [s for s in wrong_steps(lines_of(example)) if s.text not in slips]
        if steps:
            found.append(Shown(example["id"], example["title"], tuple(f"{s.text}: {s.left} and {s.right}" for s in steps)))
    return len(taken), found


def by_scheme(every: int = 1) -> tuple[int, list[Shown]]:
    """The same for the examples that a scheme can be drafted of, each marked with its own scheme."""
    from tests.scheme.draft_report import question_of

    count, found = 0, []
    for example in examples()[::every]:
        draft = draft_questions([question_of(example)], "worked example")
        if not draft.parts:
            continue
        count += 1
        results = mark_candidate(build_paper(draft.table), {str(p.spec["name"]): p.lines for p in draft.parts})
        slips = slips_of_the_book(example)
        wrong = [f"{x.text}: {x.note}" for r in results for x in r.lines if x.verdict == "wrong" and x.text not in slips]
        if wrong:
            found.append(Shown(example["id"], example["title"], tuple(wrong)))
    return count, found


def _said(count: int, found: list[Shown]) -> Iterator[str]:
    yield f"{count - len(found)} of {count} examples without a false wrong step, {100 * (1 - len(found) / count):.1f} %"
    for shown in found:
        yield f"- {shown.example} {shown.title}: {REASONS.get(shown.example, '')}"
        yield from (f"    {step[:200]}" for step in shown.steps)


def main(arguments: list[str]) -> None:
    if not FOLDER.is_dir():
        print("the corpus of worked examples is not beside this checkout")
        return
    count, found = by_scheme() if arguments[:1] == ["schemes"] else by_reading()
    print("\n".join(_said(count, found)))


if __name__ == "__main__":
    main(sys.argv[1:])
