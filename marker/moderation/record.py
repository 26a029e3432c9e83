"""The record: who did and decided what, in a file that is only ever added to.

JSON Lines, one entry a line. Each entry holds the digest of the entry before it and its own, so that a changed, removed, added or
moved entry breaks the chain. What a chain cannot show by itself is that entries are missing at the end: for that, keep the digest of
the last entry elsewhere (it is printed with each entry) and give it to `verify`.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from marker.errors import OutputError, Problem, WorkbookError
from marker.moderation.model import refuse_one

START = "0" * 64
LONGEST_LINE = 10_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry. n from 1; when: date and time as text; what: "sample", "comparison", "decision" and so on; files: name -> SHA-256."""

    n: int
    when: str
    who: str
    what: str
    data: Mapping[str, Any]
    files: Mapping[str, str]
    before: str
    digest: str


def digest_of(body: Mapping[str, Any]) -> str:
    """SHA-256 of an entry without its digest, as JSON with sorted keys and no spaces."""
    text = json.dumps(
        {k: v for k, v in body.items() if k != "digest"}, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
    )
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def file_digest(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError as error:
        refuse_one(str(path), "the file cannot be read for the record", mend=f"Check the name ({error.strerror}).")


def append(path: Path, *, when: str, who: str, what: str, data: Mapping[str, Any] | None = None, files: Sequence[Path] = ()) -> Entry:
    """Add one entry and return it. The file is locked meanwhile and the entry is on the disk when this returns.

    Raises WorkbookError when the record so far is broken (nothing is added to a broken record), OutputError when it cannot be written.
    """
    digests = {p.name: file_digest(p) for p in files}
    try:
        with _locked(path) as handle:
            text = handle.read().decode("utf-8")
            entries, problems = check(text, path.name)
            if problems:
                raise WorkbookError(problems)
            body: dict[str, Any] = {
                "n": len(entries) + 1,
                "when": when,
                "who": who,
                "what": what,
                "data": dict(data or {}),
                "files": digests,
                "before": entries[-1].digest if entries else START,
            }
            body["digest"] = digest_of(body)
            line = json.dumps(body, ensure_ascii=False, allow_nan=False)
            handle.write(("" if not text or text.endswith("\n") else "\n").encode() + line.encode("utf-8") + b"\n")
            handle.flush()
            os.fsync(handle.fileno())
    except UnicodeDecodeError:
        refuse_one(path.name, "not a record: it is not UTF-8 text")
    except OSError as error:
        raise OutputError(
            Problem(
                where=str(path), seen=f"the record cannot be written ({error.strerror})", mend="Check the folder and your rights to it."
            )
        ) from None
    return Entry(**body)


@contextmanager
def _locked(path: Path) -> Iterator[Any]:
    """The file opened to read and append, locked against other writers where the system can."""
    with path.open("a+b") as handle:
        try:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX)
        except ImportError:
            pass
        handle.seek(0)
        yield handle


def check(text: str, name: str) -> tuple[tuple[Entry, ...], tuple[Problem, ...]]:
    """Entries of a record and what is wrong with it; entries after a fault are still read, as far as they can be."""
    entries: list[Entry] = []
    problems: list[Problem] = []
    before = START
    lines = text.split("\n")
    if not lines[-1]:
        lines.pop()
    for number, line in enumerate(lines, start=1):
        where = f"{name}, line {number}"
        body = _body(line)
        if body is None:
            problems.append(Problem(where=where, seen="not an entry of a record", expected="one entry on each line, as it was written"))
            continue
        entry = Entry(**body)
        if digest_of(body) != entry.digest:
            problems.append(Problem(where=where, seen="the entry was changed after it was written"))
        if entry.before != before:
            problems.append(Problem(where=where, seen="the entry before it was changed, taken out, put in or moved"))
        if entry.n != number:
            problems.append(Problem(where=where, seen=f"entry {entry.n} stands at place {number}"))
        entries.append(entry)
        before = entry.digest
    return tuple(entries), tuple(problems)


def _body(line: str) -> dict[str, Any] | None:
    try:
        body = json.loads(line) if len(line) <= LONGEST_LINE else None
    except (ValueError, RecursionError):
        return None
    keys = {"n", "when", "who", "what", "data", "files", "before", "digest"}
    if not isinstance(body, dict) or set(body) != keys or not isinstance(body["data"], dict) or not isinstance(body["files"], dict):
        return None
    return body


@dataclass(frozen=True, slots=True, kw_only=True)
class Verified:
    """A record that was looked through: its entries, what is wrong with it, and files that are no longer as recorded.

    changed   (entry number, file name) of files beside the record whose digest differs from the last one recorded for that name
    """

    entries: tuple[Entry, ...]
    problems: tuple[Problem, ...]
    changed: tuple[tuple[int, str], ...]

    @property
    def whole(self) -> bool:
        return not self.problems

    @property
    def head(self) -> str:
        """Digest of the last entry."""
        return self.entries[-1].digest if self.entries else START


def verify(path: Path, head: str = "") -> Verified:
    """Look through a record.

    head   the digest of an entry as noted elsewhere when it was the last one (its beginning will do, eight signs or more): it must still
           be there; entries added since are in order
    """
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        refuse_one(str(path), "the record cannot be read", mend=f"Check the name ({error.strerror}).")
    except UnicodeDecodeError:
        refuse_one(path.name, "not a record: it is not UTF-8 text")
    entries, problems = check(text, path.name)
    if not entries and not problems:
        problems = (Problem(where=path.name, seen="no entries"),)
    if head:
        problems = (*problems, *_head_problems(path.name, entries, head))
    latest = {name: (e.n, digest) for e in entries for name, digest in e.files.items()}
    changed = tuple(
        (n, name)
        for name, (n, digest) in latest.items()
        if Path(name).name == name and (path.parent / name).is_file() and file_digest(path.parent / name) != digest
    )
    return Verified(entries=entries, problems=problems, changed=changed)


def _head_problems(name: str, entries: Sequence[Entry], head: str) -> list[Problem]:
    if len(head) < 8:
        return [Problem(where=name, seen="the digest given is too short", expected="eight signs or more of it")]
    if any(entry.digest.startswith(head.lower()) for entry in entries):
        return []
    return [
        Problem(where=name, seen="no entry has the digest given", mend="Entries at the end are missing, or the record was written anew.")
    ]
