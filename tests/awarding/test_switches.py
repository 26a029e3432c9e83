"""Each ruling of a convention: what each of its options makes of the same typed response.

Source field: the keys of the published sources as the conventions file lists them, else "from memory", "common practice, no
source", or "definition" where an option is what its name says. The parts are invented.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin

import pytest
from pydantic import BaseModel

from marker import build_paper
from marker.marking import mark_candidate
from marker.scheme.convention import Convention, FiguresWindow
from tests.awarding.parts import mark, one_part
from tests.awarding.switch_rows import OTHER_KINDS, PAPERS, ROWS, SETTINGS, Row


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_switch(row: Row) -> None:
    part = one_part(rulings={row.switch: row.option, **row.also}, **SETTINGS[row.setting])
    result = mark(part, row.typed)
    assert result.mark == row.marks, [f"{a.point}: {a.reason}" for a in result.awards]
    assert result.referred == row.referred


@pytest.mark.parametrize("row", PAPERS, ids=str)
def test_switch_over_a_paper(row: Row) -> None:
    rulings = {row.switch: row.option, **row.also}
    paper = build_paper({"paper": {"title": "recurring", "rulings": rulings}, "part": SETTINGS[row.setting]["parts"]})
    typed = dict(zip([p.name for p in paper.parts], row.typed.split(" / "), strict=True))
    results = mark_candidate(paper, {n: t.split("; ") for n, t in typed.items()})
    assert sum(r.mark for r in results) == row.marks, [a.reason for r in results for a in r.awards]


@pytest.mark.parametrize("row", OTHER_KINDS, ids=str)
def test_switch_of_other_kinds(row: Row) -> None:
    paper = build_paper({"paper": {"title": "one", "rulings": {row.switch: row.option}}, "part": [SETTINGS[row.setting]]})
    result = mark(paper.parts[0], row.typed)
    assert result.mark == row.marks, [a.reason for a in result.awards]
    assert result.referred == row.referred


# --- no ruling without its rows, its meaning and its source -------------------------------------------


@dataclass(frozen=True)
class Option:
    switch: str
    option: object

    def __str__(self) -> str:
        return f"{self.switch} = {self.option}"


def _options(model: type[BaseModel], prefix: str = "") -> list[Option]:
    found: list[Option] = []
    for name, field in model.model_fields.items():
        choice = field.annotation
        if get_origin(choice) is Literal:
            found.extend(Option(prefix + name, option) for option in get_args(choice))
        elif choice is bool:
            found.extend(Option(prefix + name, option) for option in (True, False))
        elif name not in ("name", "source", "significant_figures"):
            found.append(Option(prefix + name, ...))
    return found


OPTIONS = [*_options(Convention), *_options(FiguresWindow, "significant_figures.")]


def _used() -> set[tuple[str, Any]]:
    used: set[tuple[str, Any]] = set()
    for row in (*ROWS, *PAPERS, *OTHER_KINDS):
        if isinstance(row.option, dict):
            used.update((f"{row.switch}.{k}", v) for k, v in row.option.items())
            used.add((row.switch, ...))
        used.add((row.switch, row.option if isinstance(row.option, str | bool) else ...))
    used.update((s, ...) for s, _ in list(used))
    return used


@pytest.mark.parametrize("option", OPTIONS, ids=str)
def test_every_option_has_a_row(option: Option) -> None:
    default = {f"significant_figures.{k}": v for k, v in FiguresWindow().model_dump().items()}
    assert (option.switch, option.option) in _used() or default.get(option.switch) == option.option


@pytest.mark.parametrize("switch", sorted({o.switch.split(".")[0] for o in OPTIONS}))
def test_every_ruling_changes_a_mark(switch: str) -> None:
    """Two options of one ruling give one response different marks (or send it to a person)."""
    outcomes: dict[tuple[str, str], set[tuple[float, bool]]] = {}
    for row in (*ROWS, *PAPERS, *OTHER_KINDS):
        if row.switch == switch:
            outcomes.setdefault((row.setting, row.typed), set()).add((row.marks, row.referred))
    assert any(len(found) > 1 for found in outcomes.values())


@pytest.mark.parametrize("name", [n for n in Convention.model_fields if n not in ("name", "source")])
def test_every_ruling_says_what_it_means_and_where_it_comes_from(name: str) -> None:
    field = Convention.model_fields[name]
    extra = field.json_schema_extra
    assert field.description and len(field.description) > 30
    assert isinstance(extra, dict) and extra["source"]
