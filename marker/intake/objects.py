"""JSON Lines: one object per candidate and part, `{"candidate": "s01", "part": "2b", "lines": ["V = IR", …]}`."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from typing import Any

from marker.errors import Problem, ResponsesError
from marker.intake.delimited import empty
from marker.intake.gather import Gathering, missing_parts
from marker.intake.headers import nearest, unknown_part
from marker.intake.model import LONGEST_CANDIDATE, Responses
from marker.intake.typed import number_text, one_line, typed_lines

KEYS = ("candidate", "part", "lines")
GROUP_KEYS = ("class", "group")
_SHAPE = '{"candidate": "…", "part": "…", "lines": ["…"]}'
_MOST_PROBLEMS = 20
_LINE_END = re.compile(r"\r\n|\r|\n")


def read_objects(text: str, file: str, parts: Sequence[str]) -> Responses:
    """The responses of a JSON Lines text. `lines` may be a list of texts or one text; "class" or "group" may stand beside.

    Raises ResponsesError with the first twenty faults: broken JSON, a missing or unknown key, an unknown part, a response given twice.
    """
    kept = Gathering()
    problems: list[Problem] = []
    first_line: dict[tuple[str, str], int] = {}
    unread: set[str] = set()
    for number, line in enumerate(_LINE_END.split(text), start=1):
        if not line.strip():
            continue
        fault = _keep(line, f"{file}, line {number}", number, parts, kept, first_line, unread)
        if fault is not None:
            problems.append(fault)
            if len(problems) >= _MOST_PROBLEMS:
                break
    if problems:
        raise ResponsesError(problems)
    if not kept.candidates:
        raise ResponsesError(empty(file))
    _remark(kept, file, parts, unread)
    return kept.finish(parts)


def _keep(
    line: str,
    where: str,
    number: int,
    parts: Sequence[str],
    kept: Gathering,
    first_line: dict[tuple[str, str], int],
    unread: set[str],
) -> Problem | None:
    """Keep one object; the fault, if it has one."""
    found = _object(line, where)
    if isinstance(found, Problem):
        return found
    fault = _missing_key(found, where) or _wrong_value(found, where, parts)
    if fault is not None:
        return fault
    candidate, part = _name(found["candidate"]), _name(found["part"])
    before = first_line.setdefault((candidate.casefold(), part), number)
    if before != number:
        return Problem(
            where=where,
            seen=f'the response of candidate "{candidate}" to part "{part}" is already in line {before}',
            expected="one object for each candidate and part",
            mend="Keep the one that counts and take the other out.",
        )
    candidate = kept.candidates.setdefault(candidate.casefold(), candidate)
    lines = found["lines"]
    typed = (lines,) if isinstance(lines, str) else lines
    kept.add(candidate, part, tuple(piece for item in typed for piece in typed_lines(item)), where)
    for key in GROUP_KEYS:
        if isinstance(found.get(key), str) and found[key].strip():
            kept.groups[candidate] = one_line(found[key])
    unread.update(k for k in found if k not in KEYS and k not in GROUP_KEYS)
    return None


def _object(line: str, where: str) -> Mapping[str, Any] | Problem:
    try:
        found = json.loads(line.lstrip("\ufeff"))
    except json.JSONDecodeError as error:
        return Problem(
            where=f"{where}, column {error.colno}",
            seen=f"not JSON ({error.msg[:1].lower()}{error.msg[1:]})",
            expected=f"one object on each line: {_SHAPE}",
            mend="Mend the line, or export the file again.",
        )
    except (RecursionError, ValueError):
        return Problem(where=where, seen="JSON nested too deeply or with too long a number", expected=_SHAPE, mend="Mend the line.")
    if not isinstance(found, dict):
        return Problem(where=where, seen="JSON that is not an object", expected=_SHAPE, mend="Write one object on each line.")
    return found


def _missing_key(found: Mapping[str, Any], where: str) -> Problem | None:
    for key in KEYS:
        if key not in found:
            near = nearest(key, [k for k in found if k not in KEYS])
            mend = f'Write "{key}" for "{near}".' if near else f'Add "{key}".'
            return Problem(where=where, seen=f'no key "{key}"', expected=_SHAPE, mend=mend)
    return None


def _wrong_value(found: Mapping[str, Any], where: str, parts: Sequence[str]) -> Problem | None:
    for key in ("candidate", "part"):
        if not _name(found[key]) or len(_name(found[key])) > LONGEST_CANDIDATE:
            return Problem(
                where=f'{where}, key "{key}"',
                seen="an empty or unusable value",
                expected=f"text of at most {LONGEST_CANDIDATE} characters",
                mend=f"Fill in the {key}.",
            )
    if _name(found["part"]) not in parts:
        return unknown_part(f'{where}, key "part"', _name(found["part"]), parts)
    lines = found["lines"]
    if not isinstance(lines, str) and not (isinstance(lines, list) and all(isinstance(x, str) for x in lines)):
        return Problem(
            where=f'{where}, key "lines"',
            seen="a value that is not a list of texts",
            expected='["first line", "second line"]',
            mend="Put every line in double quotes, inside square brackets.",
        )
    return None


def _remark(kept: Gathering, file: str, parts: Sequence[str], unread: set[str]) -> None:
    answered = {part for _, part in kept.lines}
    kept.problems += missing_parts(file, [p for p in parts if p not in answered])
    if unread:
        shown = ", ".join(f'"{one_line(k)[:40]}"' for k in sorted(unread)[:9])
        kept.notes.append(f"{file}: keys not read: {shown}.")


def _name(value: object) -> str:
    """A candidate or part as text, from text or a number; "" for anything else."""
    if isinstance(value, str):
        return one_line(value)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return number_text(value)
    return ""
