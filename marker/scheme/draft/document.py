"""Questions and model answers found in pasted text.

Written for what teachers paste: numbered questions, marks in brackets at the end, "Model answer:" or "Solution:" before the
working, or the working straight below the question. A line of working is one with an equals sign and hardly any words.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

from marker.errors import Problem, SchemeError
from marker.scheme.draft.model import Question

_NUMBERED = re.compile(
    r"^\s*(?:(?:question|q)\s*\.?\s*(\d{1,2})|(\d{1,2})(?=[.):]|\s*\(?[a-z]\)|[a-z][.):]?\s))\s*[.):]?\s*(?:\(?([a-z])\)|([a-z])(?=[.):]?\s))?[.):]*(?:\s+|$)(.*)$",
    re.IGNORECASE,
)
# what a question begins with, however short it is: "Make v the subject of E = ½mv²."
_ASKED = re.compile(r"(?:make|rearrange|express|show|prove|derive|deduce|verify)\b", re.IGNORECASE)
_LETTERED = re.compile(r"^\s*(?:part\s*)?\(?([a-z])\)[.:]?\s*(.*)$", re.IGNORECASE)
_ANSWER = re.compile(
    r"^\s*(?:model\s+answers?|model\s+solutions?|solutions?|answers?|working|worked\s+solution|marking\s+instructions)\s*(?:to\s+)?"
    r"(?:(?:question\s*)?(\d{1,2})\s*\(?([a-z])?\)?)?\s*[:.\-–]?\s*$|^\s*(?:model\s+answers?|solutions?|answers?|working)\s*[:–-]\s*(\S.*)$",
    re.IGNORECASE,
)
_MARKS = re.compile(r"\s*[\[(]\s*(\d{1,2})\s*(?:marks?|m)?\s*[\])]\s*$|\s+(\d{1,2})\s+marks?\s*\.?\s*$", re.IGNORECASE)
_WORD = re.compile(r"[A-Za-z]{4,}")
_FUNCTION_WORDS = frozenset({"sqrt", "asin", "acos", "atan", "sinh", "cosh", "tanh", "log10"})
_MOST = 2_000_000


@dataclass(slots=True)
class _Part:
    name: str
    stem: list[str] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)
    marks: int | None = None


def questions_in(source: Path) -> tuple[str, list[Question]]:
    """Title and questions of a text or Word file that have a model answer. Raises SchemeError when there is none, or no such file."""
    if not source.is_file():
        raise SchemeError(Problem(where=str(source), seen="there is no such file", mend="Check its name."))
    if source.suffix.lower() == ".docx":
        from marker.scheme.draft.word import word_lines

        lines = word_lines(source)
    else:
        lines = _text(source).splitlines()
    found = questions_of(lines)
    if not found:
        mend = "Write each question with its number, and its model answer below it, one step on each line."
        raise SchemeError(Problem(where=str(source), seen="no question with a model answer was found", mend=mend))
    return title_of(lines), found


def _text(source: Path) -> str:
    data = source.read_bytes()[:_MOST]
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def questions_of(lines: list[str]) -> list[Question]:
    """The questions among pasted lines, each with its text, model answer and marks."""
    parts: list[_Part] = []
    number, in_answer = "", False
    if title_of(lines):
        lines = lines[lines.index(next(x for x in lines if x.strip())) + 1 :]
    for raw in lines:
        line = raw.strip()
        if not line:
            in_answer = in_answer and not (parts and parts[-1].lines)
            continue
        answer = _ANSWER.match(line)
        if answer is not None:
            in_answer = True
            named = f"{answer.group(1)}{(answer.group(2) or '').lower()}" if answer.group(1) else ""
            if named:
                _existing(parts, named)
            if answer.group(3):
                _add(parts, answer.group(3), True)
            continue
        label, rest, number = _label(line, number)
        if label is not None and not (in_answer and not _is_working(rest) and rest):
            _existing(parts, label)
            in_answer = in_answer and (not rest or _is_working(rest))
            line = rest
        elif label is not None:
            in_answer = False
            _existing(parts, label)
            line = rest
        if line:
            _add(parts, line, in_answer or _is_working(line))
            in_answer = in_answer or _is_working(line)
    return _finished(parts)


def title_of(lines: list[str]) -> str:
    """The first line, where it stands before the first number and is neither a question nor working; else ""."""
    first = next((x.strip() for x in lines if x.strip()), "")
    plain = first and not first.endswith((".", "?", ":")) and len(first) < 80 and _label(first, "")[0] is None
    return first if plain and not _is_working(first) and not _MARKS.search(first) else ""


def _label(line: str, number: str) -> tuple[str | None, str, str]:
    """(name of the part a line begins, the rest of the line, number of the question); None when it begins none."""
    found = _NUMBERED.match(line)
    if found is not None and not found.group(5).startswith(("=", "≈")):
        digits = found.group(1) or found.group(2)
        attached = found.group(4) if found.group(4) and found.start(4) == found.end(2) else None
        letter = (found.group(3) or attached or "").lower()
        rest = found.group(5) if letter or not found.group(4) else line[found.start(4) :]
        return digits + letter, rest, digits
    lettered = _LETTERED.match(line)
    if lettered is not None:
        return number + lettered.group(1).lower(), lettered.group(2), number
    return None, line, number


def _existing(parts: list[_Part], name: str) -> None:
    """Makes the part of that name the last one, new when there is none."""
    known = next((p for p in parts if p.name == name), None)
    if known is not None:
        parts.remove(known)
    parts.append(known or _Part(name))


def _add(parts: list[_Part], line: str, answer: bool) -> None:
    if not parts:
        parts.append(_Part("1"))
    part = parts[-1]
    if answer:
        part.lines.append(line)
        return
    marks = _MARKS.search(line)
    if marks is not None:
        part.marks = int(marks.group(1) or marks.group(2))
        line = line[: marks.start()].rstrip()
    if line:
        part.stem.append(line)


def _is_working(line: str) -> bool:
    """An equation or value with at most a word or two about it."""
    if ("=" not in line and "≈" not in line) or _ASKED.match(line):
        return False
    words = [w for w in _WORD.findall(line) if w.lower() not in _FUNCTION_WORDS]
    return len(words) <= 3 or sum(map(len, words)) <= 0.3 * len(line)


def _finished(parts: list[_Part]) -> list[Question]:
    """Parts in order of number and letter; the text of a question stands with each of its parts."""
    ordered = sorted(parts, key=lambda p: (int(re.match(r"\d*", p.name).group() or 0), p.name))  # type: ignore[union-attr]
    heads = {p.name: " ".join(p.stem) for p in ordered if not p.lines}
    out = []
    for part in ordered:
        if part.lines:
            head = heads.get(part.name[:-1], "") if part.name[-1:].isalpha() else ""
            stem = " ".join(x for x in (head, " ".join(part.stem)) if x)
            out.append(Question(name=part.name, stem=stem, lines=tuple(part.lines), marks=part.marks))
    return out
