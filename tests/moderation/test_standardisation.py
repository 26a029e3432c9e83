"""Qualifying on practice responses and drift on control responses, by stated rules."""

from collections.abc import Callable

import pytest

pytest.importorskip("scipy", reason="the moderation extra is not installed")

from marker.errors import WorkbookError
from marker.moderation import options
from marker.moderation.model import MarkSet
from marker.moderation.rules import DriftRule, QualifyingRule
from marker.moderation.standard import check_drift, qualify

MarkTable = Callable[..., MarkSet]
PARTS = {"1": 1.0, "2": 4.0}


def _sets(table: MarkTable, differences: list[int], base: int = 2) -> tuple[MarkSet, MarkSet]:
    agreed = [(f"p{i}", "2", "agreed", float(base)) for i in range(len(differences))]
    marked = [(f"p{i}", "2", "Cole", float(base + d)) for i, d in enumerate(differences)]
    return table(agreed, PARTS), table(marked, PARTS)


# NAEP: a scorer must reach 80 % on a pre-scored set; 90 % on the item in a teacher workshop. The rest is common practice, no source.
QUALIFYING = (
    ("eighty per cent exact", [0] * 8 + [1, 1], True),
    ("eighty per cent exact", [0] * 7 + [1, 1, 1], False),
    ("eighty per cent exact", [0] * 9, False),  # fewer than ten practice responses
    ("ninety per cent on every part", [0] * 9 + [1], True),
    ("ninety per cent on every part", [0] * 8 + [1, -1], False),
    ("department", [0] * 16 + [1, 1, -1, -1], True),
    ("department", [0] * 16 + [2, -1, -1, 2], False),  # two of twenty beyond tolerance
    ("department", [0] * 16 + [1] * 4, True),  # bias 0.20 of 4 is 5 %
    ("department", [0] * 15 + [1] * 4, False),  # 79 % exact
)


@pytest.mark.parametrize(("name", "differences", "passes"), QUALIFYING)
def test_qualifying(name: str, differences: list[int], passes: bool, table: MarkTable) -> None:
    rule, tolerance = options.qualifying_rule(name, None)
    (found,) = qualify(*_sets(table, differences), rule, tolerance)
    assert found.qualified is passes, found.tests


def test_bias_alone_can_fail_a_marker(table: MarkTable) -> None:
    rule, tolerance = options.qualifying_rule("department", None)
    strict: QualifyingRule = rule.model_copy(update={"exact": 0.5})
    (found,) = qualify(*_sets(table, [0] * 14 + [1] * 6), strict, tolerance)
    assert [t.met for t in found.tests] == [True, True, True, False]


def test_a_marker_without_agreed_marks_is_refused(table: MarkTable) -> None:
    agreed, marked = _sets(table, [0] * 10)
    extra = table([("p99", "2", "Cole", 1.0)], PARTS, name="cole.csv")
    rule, tolerance = options.qualifying_rule("department", None)
    with pytest.raises(WorkbookError) as caught:
        qualify(agreed, extra, rule, tolerance)
    assert "cole.csv, row 2: candidate p99" in str(caught.value)
    assert marked.marks


# The window of ten and its limits are common practice, no source; a run of eight on one side is a rule of control charts, from memory.
DRIFTS = (
    ("steady", [0] * 30, None),
    ("two slips in ten are allowed", ([0] * 8 + [1, -1]) * 3, None),
    ("a third slip within ten", [0] * 12 + [1, 0, -1, 0, 1], 17),
    ("one far off in ten is allowed", [0] * 12 + [2] + [0] * 9, None),
    ("two far off in ten", [0] * 12 + [2, 0, -2], 15),
    ("eight in a row on one side", [1] * 8, 8),
    ("too few to say", [1] * 5, None),
)


@pytest.mark.parametrize(("name", "differences", "at"), DRIFTS, ids=[d[0] for d in DRIFTS])
def test_drift_is_found_where_it_begins(name: str, differences: list[int], at: int | None, table: MarkTable) -> None:
    rule, tolerance = options.drift_rule("department", None)
    (found,) = check_drift(*_sets(table, differences), rule, tolerance)
    assert found.at == at, found.reason
    assert len(found.windows) == max(0, len(differences) - 9)


def test_the_markers_own_order_counts(table: MarkTable) -> None:
    from dataclasses import replace

    agreed, marked = _sets(table, [1, 1, 1] + [0] * 17)
    late = replace(marked, marks=tuple(replace(m, order=float((i - 3) % 20)) for i, m in enumerate(marked.marks)))
    rule: DriftRule
    rule, tolerance = options.drift_rule("department", None)
    assert check_drift(agreed, marked, rule, tolerance)[0].at == 10
    assert check_drift(agreed, late, rule, tolerance)[0].at == 20
    broken = replace(late, marks=(replace(late.marks[0], order=None), *late.marks[1:]))
    with pytest.raises(WorkbookError) as caught:
        check_drift(agreed, broken, rule, tolerance)
    assert "marks.csv, row 2: no order for this mark" in str(caught.value)
