"""Marks a class test and sets the result beside an examiner's marks.

    python -m tests.agreement FOLDER [--scheme FILE] [--marks marks.csv] [--parts k1,k2] [--all]
    python -m tests.agreement FOLDER --between      the engine against each of two readings, beside the readings with each other

FOLDER holds responses.csv and the examiner's marks; the scheme is FOLDER/scheme.toml or, for the shared class
test, tests/schemes/cable_car.toml. A mark named in the `accept` column counts as agreement, and the report says how often.
"""

from __future__ import annotations

import argparse
import csv
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

from marker.marking import mark_class
from marker.results import PartResult
from marker.scheme.paper import Paper, load_scheme

HERE = Path(__file__).resolve().parent.parent


@dataclass(frozen=True, slots=True)
class Examined:
    """One response with the examiner's mark and ours."""

    candidate: str
    part: str
    mark: float
    points: str
    reason: str
    accept: frozenset[float]
    lines: tuple[str, ...]
    result: PartResult

    @property
    def exact(self) -> bool:
        return self.result.mark == self.mark

    @property
    def agrees(self) -> bool:
        return self.exact or self.result.mark in self.accept

    @property
    def decided(self) -> bool:
        return not self.result.referred


def compare(folder: Path, scheme: Path, marks_file: str = "marks.csv", parts: frozenset[str] = frozenset()) -> list[Examined]:
    """Marks every response of a folder and pairs it with the examiner's."""
    paper: Paper = load_scheme(scheme)
    names = {p.name for p in paper.parts}
    with (folder / "responses.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    typed = {(r["candidate"], n): tuple(r.get(n, "").split("\n")) if r.get(n) else () for r in rows for n in names}
    results = mark_class(paper, [r["candidate"] for r in rows], typed)
    out = []
    with (folder / marks_file).open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            key = (row["candidate"], row["part"])
            if key not in results or (parts and row["part"] not in parts):
                continue
            accept = frozenset(float(a) for a in row["accept"].replace(";", " ").split())
            out.append(Examined(*key, float(row["mark"]), row["points"], row["reason"], accept, typed[key], results[key]))
    return out


@dataclass(frozen=True, slots=True)
class Between:
    """Responses on which two sets of marks are the same, of all that both marked."""

    names: str
    same: int
    of: int

    @property
    def share(self) -> float:
        return self.same / self.of


def between(folder: Path, scheme: Path, files: tuple[str, str] = ("marks_first.csv", "marks_second.csv")) -> list[Between]:
    """Exact agreement of the engine with each of two readings, and of the readings with each other; `accept` is not counted."""
    first, second = ({(f.candidate, f.part): f for f in compare(folder, scheme, name)} for name in files)
    both = sorted(first.keys() & second.keys())
    return [
        Between("engine, first reading", sum(first[k].exact for k in both), len(both)),
        Between("engine, second reading", sum(second[k].exact for k in both), len(both)),
        Between("first, second reading", sum(first[k].mark == second[k].mark for k in both), len(both)),
    ]


def table(found: list[Examined], maxima: dict[str, float]) -> list[str]:
    """The report's lines: per part and overall, and the responses without full marks apart."""
    by_part: dict[str, list[Examined]] = defaultdict(list)
    for one in found:
        by_part[one.part].append(one)
    out = [f"{'part':10}{'n':>5}{'agree':>8}{'decided':>9}{'agree of decided':>18}{'by accept':>11}"]
    groups = [*by_part.items(), ("all", found), ("not full", [f for f in found if f.mark < maxima[f.part]])]
    for name, group in groups:
        decided = [f for f in group if f.decided]
        accepted = sum(f.agrees and not f.exact for f in group)
        agree, right = sum(f.agrees for f in group), sum(f.agrees for f in decided)
        out.append(
            f"{name:10}{len(group):5}{agree / max(1, len(group)):8.1%}{len(decided) / max(1, len(group)):9.1%}"
            f"{right / max(1, len(decided)):18.1%}{accepted:11}"
        )
    return out


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("folder", type=Path)
    ask.add_argument("--scheme", type=Path)
    ask.add_argument("--marks", default="")
    ask.add_argument("--parts", default="")
    ask.add_argument("--between", action="store_true", help="set the engine beside two readings, marks_first.csv and marks_second.csv")
    ask.add_argument("--all", action="store_true", help="list referred responses too")
    given = ask.parse_args()
    own = given.folder / "scheme.toml"
    scheme = given.scheme or (own if own.is_file() else HERE / "schemes" / "cable_car.toml")
    if given.between:
        for pair in between(given.folder, scheme):
            print(f"{pair.names:26}{pair.same:5} of {pair.of:4}  {pair.share:6.1%}")
        return
    marks = given.marks or ("marks.csv" if (given.folder / "marks.csv").is_file() else "marks_first.csv")
    found = compare(given.folder, scheme, marks, frozenset(given.parts.split(",")) if given.parts else frozenset())
    maxima = {f.part: f.result.maximum for f in found}
    print("\n".join(table(found, maxima)))
    for one in found:
        if one.agrees and (one.decided or not given.all):
            continue
        state = "referred" if one.result.referred else "DISAGREES"
        print(f"\n{one.candidate} {one.part}: {state}, examiner {one.mark:g} ({one.points}: {one.reason}), engine {one.result.mark:g}")
        for line in one.lines:
            print(f"    | {line}")
        for report in one.result.lines:
            print(f"    ~ {report.verdict}: {' ; '.join(report.readings)}  [{report.note}]")
        for award in one.result.awards:
            print(f"    {award.mark:g}/{award.maximum:g} {award.point}: {award.reason}")
        if one.result.referral:
            print(f"    referred: {one.result.referral.reason}")


if __name__ == "__main__":
    main()
