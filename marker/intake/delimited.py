"""Comma, semicolon or tab separated text, as online forms and spreadsheet programs export it."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from itertools import islice

from marker.errors import Problem, ResponsesError
from marker.intake.headers import score
from marker.intake.model import Cell, Row, Table
from marker.intake.typed import clean, one_line

DELIMITERS = (",", ";", "\t")
_LARGEST_FIELD = 1 << 30


def read_delimited(text: str, file: str, parts: Sequence[str]) -> Table:
    """The table in a text. The delimiter is the one under which most headings are recognised (a first line `sep=;` decides).

    Raises ResponsesError for an empty file and for double quotes that do not pair.
    """
    text, told = _told_delimiter(clean(text))
    if not text.strip("".join(DELIMITERS) + "\r\n "):
        raise ResponsesError(empty(file))
    delimiter = told or max(DELIMITERS, key=lambda d: _recognised(text, d, parts))
    skipped = 1 if told else 0
    rows: list[Row] = []
    for number, cells in _records(text, delimiter, file, skipped):
        rows.append(Row(number, tuple(Cell(c) for c in cells)))
    if not rows:
        raise ResponsesError(empty(file))
    header = tuple(one_line(c.text) for c in rows[0].cells)
    while header and not header[-1]:
        header = header[:-1]
    return Table(file=file, header=header, header_row=rows[0].number, rows=tuple(rows[1:]))


def empty(place: str) -> Problem:
    return Problem(
        where=place,
        seen="nothing in it",
        expected='a heading row with "candidate" and the parts, and one row for each candidate',
        mend="Check that the right file or sheet was exported.",
    )


def _told_delimiter(text: str) -> tuple[str, str]:
    first, _, rest = text.partition("\n")
    if first[:4].lower() == "sep=" and first[4:].rstrip("\r") in (*DELIMITERS, "|"):
        return rest, first[4]
    return text, ""


def _recognised(text: str, delimiter: str, parts: Sequence[str]) -> tuple[int, int]:
    """(headings recognised, number of headings) of the first filled record under a delimiter."""
    try:
        for _, cells in islice(_records(text, delimiter, "", 0), 1):
            header = [one_line(c) for c in cells]
            return score(header, parts), len(header)
    except ResponsesError:
        pass
    return 0, 0


def _records(text: str, delimiter: str, file: str, skipped: int) -> Iterator[tuple[int, list[str]]]:
    """(row number, cells) of each record that is not empty; rows are counted as a spreadsheet shows them."""
    before = csv.field_size_limit(_LARGEST_FIELD)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    number, starts = skipped, skipped + 1
    try:
        for cells in reader:
            number += 1
            starts = reader.line_num + skipped + 1
            if any(c.strip() for c in cells):
                yield number, cells
    except csv.Error:
        raise ResponsesError(
            Problem(
                where=f"{file}, row {number + 1} (line {starts} of the file)",
                seen="double quotes that do not pair",
                expected='a quote before and after the cell, and "" for a quote inside it',
                mend="Mend that cell, or export the file again.",
            )
        ) from None
    finally:
        csv.field_size_limit(before)
