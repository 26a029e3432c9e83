"""Drafting a scheme from pasted questions and model answers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from marker.scheme.draft.assemble import drafted
from marker.scheme.draft.choose import segments_of
from marker.scheme.draft.in_letters import drafted_in_letters
from marker.scheme.draft.makings import Makings
from marker.scheme.draft.marks import names_letter
from marker.scheme.draft.model import Draft, DraftedPart, Question
from marker.scheme.draft.working import working_of
from marker.scheme.paper import DEFAULT_CONVENTION
from marker.scheme.toml_writer import write_scheme

HEAD = (
    "Drafted from a model answer. Remarks tell what was recognised and what to look at; remove them when the part is as you want it.",
    "Prove the scheme before use: marker scheme check",
)


def draft_questions(questions: Sequence[Question], title: str, convention: str = DEFAULT_CONVENTION) -> Draft:
    """A scheme for the questions, as far as their model answers could be taken apart."""
    sheet: dict[str, str | list[str]] = {}
    parts: list[DraftedPart] = []
    failed: list[tuple[str, str]] = []
    for question in questions:
        found, why = _draft_one(question, parts, sheet, title, convention)
        parts.extend(found)
        if why:
            failed.append((question.name, why))
    used = {k: v for k, v in sheet.items() if any(_uses(p, k) for p in parts)}
    paper: dict[str, object] = {"title": title, "convention": convention}
    if used:
        paper["data"] = used
    return Draft(paper=paper, parts=tuple(parts), not_drafted=tuple(failed))


def _uses(part: DraftedPart, letter: str) -> bool:
    return any(names_letter(letter, t) for t in (*part.spec["using"], *part.spec.get("also", ())))


def _draft_one(
    question: Question, parts: Sequence[DraftedPart], sheet: dict[str, str | list[str]], title: str, convention: str
) -> tuple[list[DraftedPart], str]:
    in_letters = drafted_in_letters(question, title, convention)
    if in_letters is not None:
        return [in_letters], ""
    working = working_of(question.lines)
    if not working.equations and not working.assigned:
        return [], "no equation or value was found in its model answer"
    segments = segments_of(working, question.stem, len(question.lines))
    out: list[DraftedPart] = []
    used: list[tuple[int, int]] = []
    for number, segment in enumerate(segments):
        name = question.name if len(segments) == 1 else f"{question.name}{_letter(number)}"
        lines = question.lines[segment.lines[0] : segment.lines[1]]
        makings = Makings(
            name=name,
            stem=question.stem if number == 0 else "",
            segment=segment,
            lines=tuple(lines),
            marks=question.marks if len(segments) == 1 else None,
            before=[*parts, *out],
            sheet=sheet,
        )
        found = drafted(makings, title, convention)
        if found is not None:
            out.append(found)
            used.append(segment.lines)
    if out:
        return [*out[:-1], _with_unused(out[-1], question, used)], ""
    if segments:
        return [], "its equations and values do not fit together into a part"
    return [], "nothing that is worked out was found in its model answer"


def _with_unused(part: DraftedPart, question: Question, used: Sequence[tuple[int, int]]) -> DraftedPart:
    """A remark on lines of the model answer that no part was made of."""
    left = [x for i, x in enumerate(question.lines) if not any(a <= i < b for a, b in used) and "=" in x]
    if not left:
        return part
    said = f"Not used of the model answer: {'; '.join(left)}"
    return replace(part, remarks={**part.remarks, "": (*part.remarks.get("", ()), said)})


def _letter(number: int) -> str:
    return "abcdefghijklmnopqrstuvwxyz"[number % 26]


def draft_text(draft: Draft) -> str:
    """The drafted scheme as a TOML file with its remarks."""
    remarks = {(n, key): said for n, part in enumerate(draft.parts) for key, said in part.remarks.items()}
    head = [*HEAD, *(f"Not drafted: {name}: {why}." for name, why in draft.not_drafted)]
    return write_scheme(draft.table, remarks, head)


def draft_file(source: Path, title: str = "", convention: str = DEFAULT_CONVENTION) -> Draft:
    """A scheme drafted from a text or Word file. Raises SchemeError when the file cannot be read or holds no question."""
    from marker.scheme.draft.document import questions_in

    own_title, found = questions_in(source)
    return draft_questions(found, title or own_title or source.stem.replace("_", " "), convention)
