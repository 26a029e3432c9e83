"""Fits rubrics/written_opinion.toml anew: python -m tests.kinds.written.fit_opinion [PART ...] > rubrics/written_opinion.toml

Only ideas that the wordings leave open are fitted to: those of the written parts of the class tests (but those of the folders named on
the command line) and of the tables beside this file. Both are invented and marked by an examiner's eye; source: common practice.
"""

from __future__ import annotations

import csv
import sys
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from pathlib import Path

from marker.kinds.written.judge import by_wordings
from marker.kinds.written.part import WrittenPart
from marker.kinds.written.prose import read
from marker.kinds.written.witnesses import NAMES, witnesses
from marker.results import Outcome
from tests.kinds.written.fit import fitted
from tests.kinds.written.table import compiled, load

CLASS_TESTS = Path(__file__).resolve().parents[2] / "classtests"
TABLES = tuple(f"answers_{n}.toml" for n in ("fourth", "fifth", "sixth", "seventh", "eighth"))
EDGES = {"earned": 0.92, "agreed": 0.75, "not_earned": 0.10, "surely_not": 0.20, "surely": 0.80}
PENALTY = 3.0
Marked = tuple[WrittenPart, str, list[bool]]


def class_tests(but: Sequence[str] = ()) -> Iterator[Marked]:
    """Every response to a written part with the examiner's marks, idea by idea."""
    for folder in sorted(f for f in CLASS_TESTS.iterdir() if f.is_dir() and f.name not in but):
        scheme = tomllib.loads((folder / "scheme.toml").read_text(encoding="utf-8"))
        parts = {p["name"]: compiled({k: v for k, v in p.items() if k != "kind"}) for p in scheme["part"] if p.get("kind") == "written"}
        typed = {r["candidate"]: r for r in _rows(folder / "responses.csv")}
        marks = folder / "marks.csv"
        for row in _rows(marks if marks.exists() else folder / "marks_first.csv"):
            if row["part"] in parts and row["candidate"] in typed:
                given = [x.strip() == "1" for x in row["points"].split(";")]
                yield parts[row["part"]], typed[row["candidate"]].get(row["part"]) or "", given


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def tables() -> Iterator[Marked]:
    for name in TABLES:
        parts, rows = load(name)
        yield from ((parts[r.part], r.typed, [x == "e" for x in r.expect]) for r in rows)


def left_open(marked: Iterator[Marked]) -> Iterator[tuple[dict[str, float], bool]]:
    """What speaks for and against each idea that the wordings leave open, with the examiner's mark."""
    for part, typed, given in marked:
        prose = read(tuple(typed.split("\n")), part.known)
        for idea, finding, mark in zip(part.ideas, by_wordings(prose, part), given, strict=True):
            if finding.outcome is Outcome.REFERRED and idea.wants is not None and idea.relation is None and not prose.blank:
                yield asdict(witnesses(idea, idea.wants, part, prose)), mark


def main() -> None:
    rows = [*left_open(class_tests(sys.argv[1:])), *left_open(tables())]
    rule = fitted([r for r, _ in rows], [y for _, y in rows], PENALTY)
    print(HEAD)
    print("\n".join(f"{k} = {v:.3f}" for k, v in {"constant": rule.constant, **EDGES}.items()))
    print("[weight]")
    print("\n".join(f"{k} = {rule.weight[k]:.3f}" for k in NAMES))


HEAD = """# A second opinion on a written answer, where the wordings of the scheme leave an idea open: a logistic rule,
# constant + sum of weight × witness. The witnesses are described in marker/kinds/written/witnesses.py.
# Fitted by tests/kinds/written/fit_opinion.py to invented, marked answers.
# Earned at a probability of `earned` or more (`agreed`, where the wordings propose it too), not earned at `not_earned` or less.
# A finding by the wordings goes to a person where the probability speaks plainly against it
# (below `surely_not`, above `surely`). Raise `earned`, lower `not_earned` to refer more."""

if __name__ == "__main__":
    main()
