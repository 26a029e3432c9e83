"""Written parts of our own, marked by an examiner's eye before the engine read them: how much is decided, and how much of it is right.

Source of the marks: common practice, no source. What the first runs gave is said at the head of each table.
"""

import pytest

from marker.results import Outcome
from tests.kinds.written.table import findings, load

FLOORS = {
    "answers_fourth.toml": (0.8, 0.985), "answers_fifth.toml": (0.8, 0.975), "answers_sixth.toml": (0.77, 0.975),
    "answers_seventh.toml": (0.7, 0.955), "answers_eighth.toml": (0.55, 0.955), "answers_ninth.toml": (0.52, 0.955),
}  # fmt: skip
"""table -> share of ideas decided, share right of those. Being wrong is worse than asking."""


@pytest.mark.parametrize("name", FLOORS)
def test_most_is_decided_and_nearly_all_of_it_right(name: str) -> None:
    parts, rows = load(name)
    assert len(rows) >= 40 and len(rows) >= 10 * len(parts)
    judged = [(f, letter == "e") for row in rows for f, letter in zip(findings(parts[row.part], row.typed), row.expect, strict=True)]
    decided = [(f, wanted) for f, wanted in judged if f.outcome is not Outcome.REFERRED]
    least_decided, least_right = FLOORS[name]
    assert len(decided) / len(judged) >= least_decided
    assert sum(f.earned == wanted for f, wanted in decided) / len(decided) >= least_right


@pytest.mark.parametrize("name", FLOORS)
def test_reasons_quote_the_candidate(name: str) -> None:
    parts, rows = load(name)
    for row in rows:
        for finding in findings(parts[row.part], row.typed):
            if finding.earned or finding.code in ("contradicted", "not enough"):
                assert finding.words and "“" in finding.reason, row.typed
                assert all(piece in row.typed for piece in finding.words.split(" … ")), finding.words
