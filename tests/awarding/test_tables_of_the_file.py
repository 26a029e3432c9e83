"""The tables of the conventions file, cell by cell: what is restated here is what stands there, and each cell has rows that are marked."""

from __future__ import annotations

import re

import pytest

from tests.awarding.conventions_file import beside, marks, section, sources, table
from tests.awarding.issue_rows import ALL, ISSUES, NOT_FOR_AN_ENGINE, PAPERS, ROWS, Row
from tests.awarding.issue_rows_of_kinds import OTHER_KINDS
from tests.awarding.mark_type_rows import MATHEMATICS, PHYSICS
from tests.awarding.mark_type_rows import ROWS as TYPE_ROWS
from tests.awarding.restated_tables import COSTS, ISSUE_CELLS, SWITCHES
from tests.awarding.switch_rows import OTHER_KINDS as OTHER_SWITCHES
from tests.awarding.switch_rows import PAPERS as SWITCH_PAPERS
from tests.awarding.switch_rows import ROWS as SWITCH_ROWS
from tests.awarding.test_costs_by_authority import AUTHORITIES, CELLS, ELSEWHERE, ERRORS, NOT_MARKED


def _split(keys: str) -> frozenset[str]:
    return frozenset(k.strip() for k in keys.split(",") if k.strip())


def _said(keys: str, texts: list[str]) -> set[str]:
    """The sources that none of these rows names."""
    return {k for k in _split(keys) if not any(re.search(rf"(?<![\w-]){re.escape(k)}(?![\w-])", t) for t in texts)}


# --- 1.3 --------------------------------------------------------------------------------------------


@beside
def test_the_issues_are_those_of_the_file() -> None:
    found = table("1.3")
    assert len(found) == len(ISSUES) == len(ISSUE_CELLS)
    for cells, (issue, (worth, keys)) in zip(found, ISSUE_CELLS.items(), strict=True):
        assert cells[0].startswith(issue), (cells[0], issue)
        assert marks(cells[2]) == set(worth), cells
        assert sources(cells[3]) == _split(keys), cells


def _of_three(row: Row) -> bool:
    """Marked out of three in one part, as the table is; a paper's later part is where an earlier value is carried to."""
    return row in PAPERS or ALL[row.setting].get("marks", 3) == 3


@pytest.mark.parametrize("issue", [i for i in ISSUE_CELLS if i not in NOT_FOR_AN_ENGINE])
def test_every_cell_of_the_issues_has_its_rows(issue: str) -> None:
    worth, keys = ISSUE_CELLS[issue]
    rows = [r for r in (*ROWS, *PAPERS, *OTHER_KINDS) if r.issue == issue]
    assert not _said(keys, [r.source for r in rows])
    single = {r.marks for r in rows if r not in PAPERS and r not in OTHER_KINDS and _of_three(r)}
    later = {r.marks - 2 for r in rows if r in PAPERS}  # after a slip in the part before, which costs its answer
    assert set(worth) <= single | later, (worth, single, later)


# --- 2.1, 2.2 ---------------------------------------------------------------------------------------


@beside
@pytest.mark.parametrize(("number", "restated"), [("2.1", PHYSICS), ("2.2", MATHEMATICS)])
def test_the_mark_types_are_those_of_the_file(number: str, restated: dict[str, str]) -> None:
    found = {cells[0].replace("*", ""): sources(cells[-1]) for cells in table(number)}
    assert found == {code: _split(keys) for code, keys in restated.items()}


@pytest.mark.parametrize("code", [*PHYSICS, *MATHEMATICS])
def test_every_mark_type_has_its_rows(code: str) -> None:
    rows = [r for r in TYPE_ROWS if r.code == code]
    assert not _said({**PHYSICS, **MATHEMATICS}[code], [r.source for r in rows])
    assert len({r.got for r in rows}) > 1, "one row where it earns, one where it does not"


# --- 2.4 --------------------------------------------------------------------------------------------


@beside
def test_the_costs_are_those_of_the_file() -> None:
    found = {cells[0]: cells[1:] for cells in table("2.4")}
    assert found.keys() == COSTS.keys()
    for error, cells in found.items():
        for authority, cell, keys in zip(AUTHORITIES, cells, COSTS[error], strict=True):
            assert (keys is None) == (cell in ("–", "")), (error, authority)
            assert keys is None or sources(cell) == _split(keys), (error, authority, cell)


CELLS_SAID = [(e, a, k) for e, keys in COSTS.items() for a, k in zip(AUTHORITIES, keys, strict=True) if k is not None]


@pytest.mark.parametrize(("error", "authority", "keys"), [c for c in CELLS_SAID if ERRORS[c[0]] not in ELSEWHERE], ids=str)
def test_every_cost_has_its_rows(error: str, authority: str, keys: str) -> None:
    if (ERRORS[error], authority) in NOT_MARKED:
        assert len(NOT_MARKED[ERRORS[error], authority]) > 30
        return
    rows = [c for c in CELLS if c.error == ERRORS[error] and authority in c.authorities.split()]
    assert rows
    assert not _said(keys, [r.source for r in rows])


# --- 1.5 --------------------------------------------------------------------------------------------

SWITCH = re.compile(r"(?:^|· )(\d+) (.+?)(?= · \d+ |$)")
LISTED = re.compile(r"^([^()]*) \(([^()]*)\)$")


def _options(text: str) -> tuple[str, list[str]]:
    """The name of a switch and the options in brackets after it; none where what is in brackets is part of the name."""
    found = LISTED.match(text)
    if found is None:
        return text, [""]
    return found[1], re.split(r" / |, |; ", found[2])


@beside
def test_the_switches_are_those_of_the_file() -> None:
    text = " ".join(line.strip() for line in section("1.5").splitlines()[1:] if line.strip()).rstrip(".")
    found = [(int(number), *_options(said)) for number, said in SWITCH.findall(text)]
    assert found == [(n, name, list(options)) for n, (name, options) in enumerate(SWITCHES, 1)]


Choice = tuple[str, object]
CHOICES = [(ruling, option) for _, options in SWITCHES for some in options.values() for ruling, option in some]


def _outcomes(ruling: str) -> dict[tuple[str, str], set[tuple[object, float, bool]]]:
    """What each option of a ruling makes of one response: (setting, typed) -> (option, marks, referred)."""
    name, _, key = ruling.partition(".")
    out: dict[tuple[str, str], set[tuple[object, float, bool]]] = {}
    for row in (*SWITCH_ROWS, *SWITCH_PAPERS, *OTHER_SWITCHES):
        if row.switch != name or (key and key not in row.option):
            continue
        option = row.option[key] if key else row.option
        out.setdefault((row.setting, row.typed), set()).add((option, row.marks, row.referred))
    return out


@pytest.mark.parametrize("choice", CHOICES, ids=str)
def test_every_option_of_a_switch_changes_a_mark(choice: Choice) -> None:
    """One response that this option marks otherwise than another option of the same ruling does."""
    ruling, option = choice
    changed = [
        (one, other)
        for outcomes in _outcomes(ruling).values()
        for one in outcomes
        for other in outcomes
        if (option is ... or one[0] == option) and one[0] != other[0] and one[1:] != other[1:]
    ]
    assert changed
