"""A responses file of any kind to responses."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from marker.errors import Problem, ResponsesError
from marker.intake.delimited import empty, read_delimited
from marker.intake.encoding import decode
from marker.intake.gather import gather
from marker.intake.model import Responses
from marker.intake.objects import read_objects
from marker.intake.sheet import read_sheet

DELIMITED = (".csv", ".tsv", ".txt")
OBJECTS = (".jsonl", ".ndjson")
SHEETS = (".xlsx", ".xlsm")
_PACKAGE = b"PK\x03\x04"


def read_responses(path: Path, parts: Sequence[str]) -> Responses:
    """The responses in a file: CSV (comma, semicolon or tab), .xlsx or JSON Lines.

    parts    the scheme's part names in paper order; columns are matched to them
    Raises   ResponsesError where nothing can be marked; a fault of one row or cell is a problem of the result instead.
    """
    file = path.name
    data = _bytes(path, file)
    suffix = path.suffix.lower()
    if suffix in SHEETS or data.startswith(_PACKAGE):
        found = gather(read_sheet(data, file, parts), parts)
    elif suffix in OBJECTS or suffix in DELIMITED:
        text, notes = decode(data, file)
        read = read_objects(text, file, parts) if suffix in OBJECTS else gather(read_delimited(text, file, parts), parts)
        found = replace(read, notes=(*notes, *read.notes))
    else:
        raise ResponsesError(_unknown_kind(file, suffix))
    return replace(found, file=file, sha256=hashlib.sha256(data).hexdigest())


def _bytes(path: Path, file: str) -> bytes:
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        near = _neighbour(path)
        mend = f'Did you mean "{near}"?' if near else "Check the name and the folder."
        raise ResponsesError(Problem(where=str(path), seen="no such file", mend=mend)) from None
    except IsADirectoryError:
        problem = Problem(where=str(path), seen="a folder", expected="a file of responses", mend="Name the file in it.")
        raise ResponsesError(problem) from None
    except OSError as error:
        seen = f"cannot be read ({(error.strerror or 'no reason given').lower()})"
        raise ResponsesError(Problem(where=str(path), seen=seen, mend="Close it elsewhere, or check that you may read it.")) from None
    if not data.strip():
        raise ResponsesError(empty(file))
    return data


def _neighbour(path: Path) -> str:
    from difflib import get_close_matches

    try:
        names = [p.name for p in path.parent.iterdir() if p.is_file()]
    except OSError:
        return ""
    return next(iter(get_close_matches(path.name, names, n=1, cutoff=0.7)), "")


def _unknown_kind(file: str, suffix: str) -> Problem:
    return Problem(
        where=file,
        seen=f'a file that ends in "{suffix}"' if suffix else "a file name without an ending",
        expected=", ".join((*DELIMITED, *SHEETS, *OBJECTS)),
        mend="Save or export it as one of these.",
    )
