"""The columns of a scheme written as a worksheet: what each holds, for which rows, and how its cell is written and read.

A cell's text must give back exactly the value it was made from; a value that does not survive this stands under
"Further keys" in the notation of the scheme file.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

PART, STEP, ROUTE, POINT, ASK, IDEA = "part", "step", "route", "point", "direction asked", "idea"
ROWS = (PART, STEP, ROUTE, POINT, ASK, IDEA)
# list of tables in a scheme file -> what its rows are called here
CHILDREN: Mapping[str, str] = {"step": STEP, "route": ROUTE, "points": POINT, "ask": ASK, "idea": IDEA}
LIST_OF: Mapping[str, str] = {row: key for key, row in CHILDREN.items()}


class NotInThisCell(ValueError):
    """A cell's text that is not of its column. The message says what was expected."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column. `key` of the scheme file; `rows` that use it; `write` gives None for a value it cannot hold."""

    title: str
    key: str
    width: int
    rows: tuple[str, ...]
    meaning: str
    example: str
    write: Callable[[Any], str | int | float | None]
    read: Callable[[str], Any]


def _text(v: Any) -> str | None:
    return v if isinstance(v, str) and v.strip() == v and v else None


def _read_text(cell: str) -> str:
    return cell


def _whole(v: Any) -> int | float | None:
    return v if isinstance(v, int | float) and not isinstance(v, bool) else None


def _read_whole(cell: str) -> int | float:
    try:
        number = float(cell.replace(",", "."))
    except ValueError:
        raise NotInThisCell("a number, such as 3") from None
    return int(number) if number.is_integer() else number


def _lines(v: Any) -> str | None:
    plain = isinstance(v, list) and v and all(isinstance(x, str) and _text(x) and "\n" not in x for x in v)
    return "\n".join(v) if plain else None


def _read_lines(cell: str) -> list[str]:
    return [x.strip() for x in cell.splitlines() if x.strip()]


def _one_or_more(v: Any) -> str | None:
    return v if isinstance(v, str) and _text(v) and "\n" not in v else _lines(v) if isinstance(v, list) and len(v) > 1 else None


def _read_one_or_more(cell: str) -> str | list[str]:
    found = _read_lines(cell)
    return found[0] if len(found) == 1 else found


def _pairs(v: Any) -> str | None:
    plain = isinstance(v, dict) and v and all(isinstance(x, str) and _text(x) and "\n" not in x and "=" not in k for k, x in v.items())
    return "\n".join(f"{k} = {x}" for k, x in v.items()) if plain else None


def _read_pairs(cell: str) -> dict[str, str]:
    out: dict[str, str] = {}
    for line in _read_lines(cell):
        key, sign, rest = line.partition("=")
        if not sign or not key.strip() or not rest.strip():
            raise NotInThisCell(f"lines such as V = 27.6 V; {line!r} is not one")
        if key.strip() in out:
            raise NotInThisCell(f"each letter once; {key.strip()} stands twice")
        out[key.strip()] = rest.strip()
    return out


def _names(v: Any) -> str | None:
    if (
        not isinstance(v, dict)
        or not v
        or not all(isinstance(x, list) and x and all(_text(w) and ";" not in w for w in x) for x in v.values())
    ):
        return None
    return "\n".join(f"{k} = {'; '.join(x)}" for k, x in v.items())


def _read_names(cell: str) -> dict[str, list[str]]:
    return {k: [w.strip() for w in x.split(";") if w.strip()] for k, x in _read_pairs(cell).items()}


def _yes(v: Any) -> str | None:
    return {True: "yes", False: "no"}.get(v) if isinstance(v, bool) else None


def _read_yes(cell: str) -> bool:
    if cell.casefold() not in ("yes", "no", "true", "false"):
        raise NotInThisCell("yes or no")
    return cell.casefold() in ("yes", "true")


def _column(
    title: str,
    key: str,
    width: int,
    rows: tuple[str, ...],
    how: tuple[Callable[[Any], Any], Callable[[str], Any]],
    meaning: str,
    example: str,
) -> Column:
    return Column(title=title, key=key, width=width, rows=rows, meaning=meaning, example=example, write=how[0], read=how[1])


TEXT, WHOLE, LINES = (_text, _read_text), (_whole, _read_whole), (_lines, _read_lines)
ONE_OR_MORE, PAIRS, NAMES, YES = (_one_or_more, _read_one_or_more), (_pairs, _read_pairs), (_names, _read_names), (_yes, _read_yes)

COLUMNS: tuple[Column, ...] = (
    _column("Name", "name", 12, (PART, ROUTE, POINT, IDEA), TEXT, "Name of the part as candidates' columns call it, or of the row.", "2b"),
    _column("Kind", "kind", 14, (PART, POINT), TEXT, "Of a part: calculation if empty. Of a point: what it is for.", "relationship"),
    _column("Marks", "marks", 7, (PART, STEP, POINT, IDEA), WHOLE, "What it is worth. A point without a number is worth 1.", "3"),
    _column("Question", "question", 9, (PART,), TEXT, "The question the part belongs to, where its name does not tell.", "2"),
    _column("Stem", "stem", 40, (PART,), TEXT, "The question as the candidates read it.", "Find the current in the winch motor."),
    _column("Find", "find", 8, (PART, STEP), TEXT, "The letter of what is to be found.", "I"),
    _column("Label", "label", 7, (STEP,), TEXT, "How the question numbers this step.", "i"),
    _column("Given", "given", 18, (PART,), PAIRS, "Each datum on its line, with its unit and its figures.", "P = 1.8 kW\nV = 230 V"),
    _column("Carry", "carry", 12, (PART,), PAIRS, "A value from an earlier part, each on its line.", "v = 2a"),
    _column("Using", "using", 24, (PART, STEP, ROUTE), LINES, "Relationships that carry marks, one a line.", "P = I*V"),
    _column("Also", "also", 18, (PART, ROUTE), LINES, "Definitions and conversions that carry none.", "r = d/2"),
    _column("Unit", "unit", 8, (PART, STEP), TEXT, "The unit the answer is written in.", "A"),
    _column("Show", "show", 10, (PART, STEP), TEXT, "The value given in a \"show that\".", "4.6 m/s"),
    _column("Accept", "accept", 12, (PART, STEP, POINT), LINES, "Lowest and highest value accepted, one on each line.", "7.7 A\n7.9 A"),
    _column("Answer", "answer", 10, (PART, STEP), TEXT, "The answer worked out by hand, to be compared.", "7.8 A"),
    _column("Figures", "figures", 8, (PART, STEP), WHOLE, "Significant figures of the least precise datum.", "2"),
    _column("Names", "names", 22, (PART,), NAMES, "Words and letters candidates may use, with ; between.", "θ_1 = i; angle of incidence"),
    _column("Signed", "signed", 8, (PART,), LINES, "Letters whose value may be negative, one on each line.", "a"),
    _column("Either sign", "either_sign", 8, (PART,), YES, "yes: the answer is right with or without its minus sign.", "yes"),
    _column("Of", "of", 22, (POINT, ASK), ONE_OR_MORE, "Of a point: its relationships or value. Of a direction: what it is of.", "P = I*V"),
    _column("Type", "type", 6, (POINT,), TEXT, "M must be seen, A depends on M, B stands alone, C may be implied.", "C"),
    _column("Needs", "needs", 14, (POINT,), LINES, "Names of points without which this one is not earned.", "relationship"),
    _column("Says", "says", 40, (IDEA,), LINES, "Wordings that earn the idea, each on its line.", "the photon has too little energy"),
)  # fmt: skip
BY_TITLE: Mapping[str, Column] = {c.title.casefold(): c for c in COLUMNS}
BY_KEY: Mapping[str, Column] = {c.key: c for c in COLUMNS}
FURTHER = "Further keys"
FURTHER_MEANING = (
    "Whatever else the part, point or row has, written as in a scheme file: one key = value on each line; texts in quotation marks."
)
HEADS = ("Part", "Row", *(c.title for c in COLUMNS), FURTHER)


def cell_value(column: Column, row: str, v: Any) -> str | int | float | None:
    """What stands in a cell for a value; None when the column does not hold it without loss."""
    if row not in column.rows:
        return None
    written = column.write(v)
    if written is None:
        return None
    try:
        back = column.read(str(written))
    except NotInThisCell:
        return None
    return written if back == v and type(back) is type(v) else None
