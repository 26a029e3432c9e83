"""A scheme in either form, TOML or worksheet: read, compiled, and changed from one into the other."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from marker.errors import Problem, SchemeError
from marker.scheme.paper import Paper, build_paper, load_scheme
from marker.scheme.toml_text import toml_problem


def load_any(path: Path | str, convention: Path | str | None = None) -> Paper:
    """A scheme file of either form, compiled. Raises SchemeError; for a worksheet each problem names its cell."""
    path = Path(path)
    if path.suffix.lower() != ".xlsx":
        return load_scheme(path, convention)
    from marker.scheme.worksheet import read_worksheet

    sheets = read_worksheet(path)
    try:
        return build_paper(sheets.scheme, folder=path.parent, convention=convention, source=str(path))
    except SchemeError as error:
        raise SchemeError([_at_its_cell(p, sheets.places, path) for p in error.problems]) from error


def _at_its_cell(problem: Problem, places: Mapping[tuple[str, str], str], path: Path) -> Problem:
    """The same problem with the cell in front of the part and key it names."""
    inside = problem.where.removeprefix(str(path)).lstrip(", ")
    found = re.match(r"part ([^,]+)(?:, (.*))?$", inside)
    name, key = (found.group(1), found.group(2) or "name") if found else ("", inside.removeprefix("[paper]").lstrip(", "))
    cell = _cell(places, name, key)
    where = f"{path}, {cell} ({inside})" if cell else problem.where
    return Problem(where=where, seen=problem.seen, expected=problem.expected, mend=problem.mend)


def _cell(places: Mapping[tuple[str, str], str], part: str, key: str) -> str | None:
    """The cell of a key; of the table it stands in, or of the part, where the key has none of its own."""
    key = re.sub(r",\s*", ".", key)
    key = re.sub(r"\b(points|step|route|ask|idea)\.(\d+)", r"\1 \2", key)
    while key:
        if (part, key) in places:
            return places[part, key]
        if key.split(" ")[0] in ("points", "step", "route", "ask", "idea"):
            first = next((cell for (p, k), cell in places.items() if p == part and k.startswith(f"{key}.")), None)
            if first:
                return first
        key = key.rpartition(".")[0]
    return places.get((part, "name"))


def scheme_table(path: Path) -> dict[str, Any]:
    """A scheme file of either form as plain values. Raises SchemeError when it cannot be read; nothing is compiled."""
    if path.suffix.lower() == ".xlsx":
        from marker.scheme.worksheet import read_worksheet

        return read_worksheet(path).scheme
    if not path.is_file():
        raise SchemeError(Problem(where=str(path), seen="there is no such file", mend="Check the name of the scheme."))
    try:
        text = path.read_text(encoding="utf-8")
        return tomllib.loads(text)
    except UnicodeDecodeError as error:
        raise SchemeError(Problem(where=str(path), seen="not UTF-8 text", mend="Save the scheme as UTF-8.")) from error
    except tomllib.TOMLDecodeError as error:
        raise SchemeError(toml_problem(text, error, str(path))) from error


def change_form(source: Path, target: Path) -> None:
    """Writes a scheme in the form the target's name asks for, .toml or .xlsx. Raises SchemeError or OutputError."""
    write_table(scheme_table(source), target)


def write_table(table: Mapping[str, Any], target: Path) -> None:
    """Writes a scheme, as plain values, in the form the target's name asks for. Raises SchemeError or OutputError."""
    if target.suffix.lower() == ".xlsx":
        from marker.scheme.worksheet import write_worksheet

        write_worksheet(table, target)
    elif target.suffix.lower() == ".toml":
        from marker.reporting.atomic import write_text
        from marker.scheme.toml_writer import write_scheme

        write_text(target, write_scheme(table))
    else:
        raise SchemeError(
            Problem(where=str(target), seen="its name ends in neither .toml nor .xlsx", mend="Name it scheme.toml or scheme.xlsx.")
        )
