"""Which column is the candidate, which are parts, and which are neither.

Candidate column   candidate, pupil, student, learner or script, alone or with number, no, ID, code, reference; or plain ID or number
Group column       class, group, set, form, section, teaching group
Part column        the part's name, however it is spaced, bracketed or introduced: 2b, 2(b), Q2b, "Question 2 (b): find the current"
Any other column is named in a note, unless it looks like a part: then the file is refused and the nearest part offered.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches

from marker.errors import Problem, ResponsesError
from marker.intake.model import Table
from marker.intake.typed import one_line

CANDIDATE_WORDS = frozenset({"candidate", "cand", "pupil", "student", "learner", "script"})
NUMBER_WORDS = frozenset({"number", "numbers", "no", "nr", "num", "id", "code", "ref", "reference", "identifier"})
GROUP_WORDS = frozenset({"class", "group", "set", "form", "section", "teaching group", "teaching set", "class group"})
PART_WORDS = ("question", "part", "qu", "q")
_LEADING_WORDS = 5
_NEAR = 0.75
_LONGEST_QUESTION = 2
_LONGEST_ROMAN = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Places of the columns, from 0. `parts` in the order of the scheme; `missing` parts have no column; `notes` on the rest."""

    candidate: int
    parts: tuple[tuple[str, int], ...]
    group: int | None = None
    missing: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(slots=True)
class _Found:
    """Columns sorted by what they are, while the heading row is read."""

    exact: dict[str, list[int]] = field(default_factory=dict)
    loose: dict[str, list[int]] = field(default_factory=dict)
    other: list[int] = field(default_factory=list)


def score(header: Sequence[str], parts: Sequence[str]) -> int:
    """How many headings are recognised, the candidate column counting as two: for choosing a delimiter, a sheet or a heading row."""
    names = {_key(p) for p in parts}
    known = sum(1 for h in header if _key(h) in names or _part_of(h, parts) is not None)
    return known + (2 if _candidate_column(header, parts) is not None else 0)


def columns(table: Table, parts: Sequence[str]) -> Columns:
    """The columns of a table. Raises ResponsesError with every fault of the heading row at once."""
    header = table.header
    candidate = _candidate_column(header, parts)
    found = _sort(header, parts, candidate)
    chosen, problems, ignored = _choose(table, found, parts)
    if candidate is None:
        problems.insert(0, _no_candidate(table))
    group = next((i for i in found.other if _words(header[i]) in GROUP_WORDS), None)
    for i in (*found.other, *ignored):
        if i != group and i not in ignored and looks_like_part(header[i], parts):
            problems.append(unknown_part(table.at(table.header_row, i), header[i], parts))
    if not chosen and not problems:
        problems.append(_no_parts(table, parts))
    if problems or candidate is None:
        raise ResponsesError(problems)
    return Columns(
        candidate=candidate,
        parts=tuple((p, chosen[p]) for p in parts if p in chosen),
        group=group,
        missing=tuple(p for p in parts if p not in chosen),
        notes=_notes(table, [i for i in sorted((*found.other, *ignored)) if i != group]),
    )


def unknown_part(where: str, name: str, parts: Sequence[str]) -> Problem:
    """A name that is no part of the scheme, with the nearest one or the choices."""
    near = nearest(name, parts)
    expected = ("one of " + ", ".join(parts)) if len(parts) < 10 else (f'perhaps "{near}"' if near else "a part of the scheme")
    mend = f'Write "{near}" if that is meant; otherwise take it out.' if near else "Rename it as in the scheme, or take it out."
    return Problem(where=where, seen=f'"{name}" is not a part of this scheme', expected=expected, mend=mend)


def nearest(name: str, choices: Sequence[str]) -> str:
    """The choice most like a name, "" when none is."""
    by_key = {_key(c): c for c in choices}
    close = get_close_matches(_key(name)[:80], list(by_key), n=1, cutoff=0.5)
    return by_key[close[0]] if close else ""


def looks_like_part(heading: str, parts: Sequence[str]) -> bool:
    """True for a heading of the same make as the parts' names (k13 beside k1 to k12), numbered as a part of a question is
    (7q beside 1 to 6), or nearly spelt like one."""
    key = _stripped(_key(heading))
    keys = [_key(p) for p in parts]
    if any(_stripped(k)[:1].isdigit() for k in keys) and _numbered(heading):
        return True
    if not key or len(key) > 40:
        return False
    alike = any(_make(key) == _make(k) for k in keys) and (len(key) <= 2 or any(c.isdigit() for c in key))
    return alike or (len(key) >= 3 and bool(get_close_matches(key, keys, n=1, cutoff=_NEAR)))


def _numbered(heading: str) -> bool:
    """True for the number of a question with a letter after it, and a Roman figure after that: 7q, Q7(q), 7 (b)(ii), "7q: the current"."""
    words = one_line(heading).split(" ")
    for n in range(min(_LEADING_WORDS, len(words)), 0, -1):
        lead = " ".join(words[:n])
        key = _stripped(_key(lead))
        figures = len(key) - len(key.lstrip("0123456789"))
        letters = key[figures:]
        named = letters.isascii() and letters[:1].isalpha() and len(letters) <= 1 + _LONGEST_ROMAN and set(letters[1:]) <= set("ivx")
        if 0 < figures <= _LONGEST_QUESTION and named and (n == len(words) or lead[-1] in ".:)]"):
            return True
    return False


def _sort(header: Sequence[str], parts: Sequence[str], candidate: int | None) -> _Found:
    found = _Found()
    for i, heading in enumerate(header):
        if i == candidate:
            continue
        part = _part_of(heading, parts)
        if part is None:
            found.other.append(i)
        else:
            place = found.exact if _stripped(_key(heading)) == _stripped(_key(part)) else found.loose
            place.setdefault(part, []).append(i)
    return found


def _choose(table: Table, found: _Found, parts: Sequence[str]) -> tuple[dict[str, int], list[Problem], list[int]]:
    """Part -> column, with a problem for each part that has two; a longer heading gives way to the bare name."""
    chosen: dict[str, int] = {}
    problems: list[Problem] = []
    ignored: list[int] = []
    for part in parts:
        places = found.exact.get(part) or found.loose.get(part, [])
        if part in found.exact:
            ignored += found.loose.get(part, [])
        if len(places) > 1:
            problems.append(
                Problem(
                    where=table.at(table.header_row, places[1]),
                    seen=f'a second column for part "{part}"',
                    expected="one column for each part",
                    mend="Take one of the two out, or rename it.",
                )
            )
        if places:
            chosen[part] = places[0]
    return chosen, problems, ignored


def _part_of(heading: str, parts: Sequence[str]) -> str | None:
    """The part a heading names: alone, or as its first words when they hold a figure or end with a stop."""
    by_key: dict[str, str] = {}
    for p in reversed(parts):
        by_key[_key(p)] = p
    if heading in parts:
        return heading
    key = _key(heading)
    for k in (key, _stripped(key)):
        if k in by_key:
            return by_key[k]
    words = one_line(heading).split(" ")
    for n in range(min(_LEADING_WORDS, len(words)), 0, -1):
        lead = " ".join(words[:n])
        found = by_key.get(_stripped(_key(lead)))
        if found is not None and (any(c.isdigit() for c in lead) or lead[-1] in ".:)]"):
            return found
    return None


def _candidate_column(header: Sequence[str], parts: Sequence[str]) -> int | None:
    plain = [_words(h) for h in header]
    for i, text in enumerate(plain):
        words = text.split()
        if words and words[0] in CANDIDATE_WORDS and all(w in NUMBER_WORDS for w in words[1:]):
            return i
    for i, text in enumerate(plain):
        words = text.split()
        if words and header[i] not in parts and all(w in NUMBER_WORDS for w in words):
            return i
    return None


def _no_candidate(table: Table) -> Problem:
    shown = ", ".join(f'"{h}"' for h in table.header[:6]) or "nothing"
    return Problem(
        where=f"{table.place}, row {table.header_row}",
        seen=f"no column is the candidate (the headings begin {shown})",
        expected='a column headed "candidate", "candidate number", "student", "pupil" or "ID"',
        mend='Head the column of candidate numbers "candidate".',
    )


def _no_parts(table: Table, parts: Sequence[str]) -> Problem:
    return Problem(
        where=f"{table.place}, row {table.header_row}",
        seen="no column is a part of this scheme",
        expected="columns headed " + ", ".join(parts[:9]) + (" and so on" if len(parts) > 9 else ""),
        mend="Head each column of responses with the part's name, or give the scheme that belongs to this paper.",
    )


def _notes(table: Table, unread: list[int]) -> tuple[str, ...]:
    named = [f'"{table.header[i]}"' for i in unread if table.header[i]]
    notes = [f"{table.place}: not read, since not a part of the scheme: {', '.join(named)}."] if named else []
    bare = [i for i in unread if not table.header[i] and any(i < len(r.cells) and r.cells[i].text for r in table.rows)]
    if bare:
        notes.append(f"{table.place}: a column without a heading was not read ({', '.join(f'number {i + 1}' for i in bare)}).")
    return tuple(notes)


def _key(text: str) -> str:
    """Letters and figures only, lower case; a break between two figures stays, so that 1.1 is not 11."""
    kept: list[str] = []
    gap = False
    for c in unicodedata.normalize("NFKC", text).casefold():
        if c.isalnum():
            if gap and kept and kept[-1].isdigit() and c.isdigit():
                kept.append(".")
            kept.append(c)
            gap = False
        else:
            gap = True
    return "".join(kept)


def _stripped(key: str) -> str:
    """A key without an introducing word: question2b -> 2b."""
    for word in PART_WORDS:
        if key.startswith(word) and key[len(word) : len(word) + 1].isdigit():
            return key[len(word) :]
    return key


def _words(text: str) -> str:
    return " ".join("".join(c if c.isalnum() else " " for c in one_line(text).casefold()).split())


def _make(key: str) -> str:
    """Figures collapsed to 9, each letter to a: k13 -> a9, 2bii -> 9aaa."""
    made = ""
    for c in key:
        sign = "9" if c.isdigit() else "a" if c.isalpha() else c
        if not (sign == "9" and made.endswith("9")):
            made += sign
    return made
