"""Decisions of a teacher on responses: what was settled, and what it says about the same words typed again."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from marker.errors import Problem, SchemeError
from marker.kinds.written.learning import Key, key
from marker.kinds.written.prose import read
from marker.kinds.written.spec import SettledSpec, WrittenSpec
from marker.kinds.written.text import Sort, words
from marker.kinds.written.vocabulary import Vocabulary


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """A settled response: the mark of the part, or the ideas it earned (None when only the mark is known)."""

    text: str
    mark: float | None = None
    ideas: frozenset[str] | None = None
    contradicts: bool = False


def decisions_of(spec: WrittenSpec) -> tuple[Decision, ...]:
    """All settled responses of a part. Raises SchemeError for a file that cannot be read or a name that is no idea."""
    settled = _load(spec.name, spec.settled) if isinstance(spec.settled, str) else spec.settled
    names = {i.name for i in spec.idea} or {"answer"}
    problems = []
    for number, entry in enumerate(settled, 1):
        where = f"part {spec.name}, settled, entry {number}"
        if unknown := sorted(set(entry.ideas or ()) - names):
            problems.append(Problem(where=where, seen=f"{unknown[0]!r} is not an idea of this part", expected=", ".join(sorted(names))))
        if entry.mark is not None and not 0 <= entry.mark <= spec.marks:
            problems.append(Problem(where=where, seen=f"mark {entry.mark}", expected=f"0 to {spec.marks}"))
    if problems:
        raise SchemeError(problems)
    return tuple(_decision(e, spec) for e in settled)


def text_of_settled(spec: WrittenSpec) -> str:
    """What the file of settled responses holds; "" without a file, or when it cannot be read (compiling says so)."""
    try:
        return Path(spec.settled).read_text(encoding="utf-8") if isinstance(spec.settled, str) else ""
    except (OSError, UnicodeError):
        return ""


def _decision(entry: SettledSpec, spec: WrittenSpec) -> Decision:
    """Full marks settle every idea as earned where all are needed for them, no mark settles none as earned."""
    ideas = None if entry.ideas is None else frozenset(entry.ideas)
    if ideas is None and entry.mark == 0:
        ideas = frozenset()
    if ideas is None and entry.mark == spec.marks and (spec.accept or sum(i.marks for i in spec.idea) <= spec.marks):
        ideas = frozenset(i.name for i in spec.idea) or frozenset(("answer",))
    return Decision(text=entry.text, mark=None if entry.mark is None else float(entry.mark), ideas=ideas, contradicts=entry.contradicts)


def _load(part: str, path: str) -> list[SettledSpec]:
    """A JSONL file of settled responses."""
    try:
        lines = Path(path).read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeError) as error:
        raise SchemeError(Problem(where=f"part {part}, settled", seen=f"{path}: {error}", mend="Give the path of a JSONL file.")) from error
    entries, problems = [], []
    for number, line in enumerate(lines, 1):
        if not line.strip():
            continue
        try:
            entries.append(SettledSpec.model_validate(_known_keys(json.loads(line))))
        except (ValueError, ValidationError) as error:
            first = error.errors()[0]["msg"] if isinstance(error, ValidationError) else str(error)
            problems.append(
                Problem(where=f"{path}, line {number}", seen=first, expected='{"text": …, "mark": …} or {"text": …, "ideas": […]}')
            )
    if problems:
        raise SchemeError(problems)
    return entries


def _known_keys(entry: Any) -> Any:
    """A record may carry more, such as the candidate; only these keys matter here."""
    return {k: entry[k] for k in ("text", "mark", "ideas", "contradicts") if k in entry} if isinstance(entry, dict) else entry


def by_key(settled: Sequence[Decision], known: Vocabulary) -> dict[Key, tuple[Decision, ...]]:
    found: dict[Key, list[Decision]] = {}
    for decision in settled:
        found.setdefault(response_key(decision.text.split("\n"), known), []).append(decision)
    return {k: tuple(v) for k, v in found.items()}


def response_key(lines: Sequence[str], known: Vocabulary) -> Key:
    """Two responses with the same key say the same thing. One without any idea is its own plain words."""
    return key(read(tuple(lines), known)) or (("=", *plain(lines).split()),)


def settled_as(decisions: Mapping[Key, tuple[Decision, ...]], here: Key, lines: Sequence[str]) -> Decision | None:
    """What a teacher decided on these words; None without a decision, or where decisions differ.

    The words typed just so decide alone; the same words in other spelling or order must have been settled alike twice.
    """
    found = decisions.get(here, ())
    same = [d for d in found if plain(d.text.split("\n")) == plain(lines)]
    for group, fewest in ((same, 1), (list(found), 2)):
        if len(group) >= fewest and len({(d.mark, d.ideas) for d in group}) == 1:
            return group[0]
    return None


def plain(lines: Sequence[str]) -> str:
    """Text without case, punctuation and spacing."""
    return " ".join(w.text for w in words(lines) if w.sort in (Sort.WORD, Sort.NUMBER, Sort.SIGN))
