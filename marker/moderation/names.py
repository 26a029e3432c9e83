"""What is typed on the command line to values: second markers with their classes, grade boundaries, file names for several markers."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from marker.moderation.allocation import SecondMarker
from marker.moderation.model import refuse_one


def second_markers(typed: Sequence[str]) -> tuple[SecondMarker, ...]:
    """ "Adair=13A,13C" to a marker who teaches these classes; "Adair" to one who teaches none of them. Default: one second marker."""
    found = []
    for text in typed or ("second marker",):
        name, _, classes = text.partition("=")
        if not name.strip():
            refuse_one("--to", f'"{text}" has no name', expected="a name, or name=class,class")
        found.append(SecondMarker(name=name.strip(), classes=tuple(c.strip() for c in classes.split(",") if c.strip())))
    names = [m.name.casefold() for m in found]
    twice = next((m.name for m in found if names.count(m.name.casefold()) > 1), None)
    if twice is not None:
        refuse_one("--to", f'"{twice}" is named twice', mend="Give all classes of a marker at once: name=class,class")
    return tuple(found)


def boundaries(typed: Sequence[str], maximum: float) -> dict[str, float]:
    """ "A=30" to the least mark of a grade."""
    found: dict[str, float] = {}
    for text in typed:
        grade, sign, mark = text.partition("=")
        try:
            value = float(mark)
        except ValueError:
            value = -1.0
        if not sign or not grade.strip() or not 0 <= value <= maximum:
            refuse_one(
                "--boundary",
                f'"{text}" is not a grade and its least mark',
                expected=f"such as A={maximum * 0.7:.0f}, from 0 to {maximum:g}",
            )
        found[grade.strip()] = value
    return found


def files_for(path: Path, names: Sequence[str]) -> dict[str, Path]:
    """sample.xlsx for one marker; sample-adair.xlsx and so on, no two alike, for several."""
    if len(names) == 1:
        return {names[0]: path}
    found: dict[str, Path] = {}
    for name in names:
        wanted = path.with_name(f"{path.stem}-{slug(name)}{path.suffix}")
        number = 2
        while wanted in found.values():
            wanted, number = path.with_name(f"{path.stem}-{slug(name)}-{number}{path.suffix}"), number + 1
        found[name] = wanted
    return found


def slug(name: str) -> str:
    return re.sub(r"[^\w]+", "-", name.casefold(), flags=re.UNICODE).strip("-") or "marker"
