"""An invented class test, "Lighthouse generator": three classes, eight parts, marked by the engine and by invented markers."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from marker.moderation.model import Mark, MarkSet
from marker.moderation.source import load_marks
from marker.reporting import MarkedPaper, write_records, write_workbook
from marker.results import Award, FaultFound, LineReport, Outcome, PartResult, Possibility, Referral

PARTS = (("1a", 1.0), ("1b", 3.0), ("2a", 2.0), ("2b", 3.0), ("3", 4.0), ("4a", 3.0), ("4b", 1.0), ("5", 5.0))
CLASSES = ("13A", "13B", "13C")
KINDS = ("relationship", "substitution", "answer", "statement", "unit")


def _result(part: str, maximum: float, ability: float, rng: random.Random) -> PartResult:
    awards = []
    for i in range(int(maximum)):
        earned = rng.random() < 1 / (1 + 2.718 ** -(2.2 * ability - 0.35 * i + 0.6))
        awards.append(
            Award(
                point=KINDS[i],
                kind=KINDS[i],
                mark=float(earned),
                maximum=1.0,
                outcome=Outcome.EARNED if earned else Outcome.NOT_EARNED,
                reason=f"the {KINDS[i]} is {'there' if earned else 'not there'}",
                lines=(1,),
            )
        )
    mark = sum(a.mark for a in awards)
    current = round(rng.uniform(0.4, 6.5), 2)
    lines = (
        LineReport(number=1, text=f"V = IR, part {part}", verdict="right"),
        LineReport(number=2, text=f"=12/{current} = {12 / current:.3g} ohm", verdict="right" if mark == maximum else "wrong"),
    )
    faults = ()
    if mark < maximum and maximum > 1:
        code = ("unit-missing", "inverted-quotient", "arithmetic-slip")[rng.randrange(3)]
        faults = (FaultFound(code=code, line=2, teacher=code.replace("-", " "), student="look at this line"),)
    referral = None
    if rng.random() < 0.03:
        referral = Referral(
            reason="two readings", possibilities=(Possibility(text="one", mark=mark), Possibility(text="other", mark=max(0.0, mark - 1)))
        )
    return PartResult(part=part, mark=mark, maximum=maximum, awards=tuple(awards), faults=faults, lines=lines, referral=referral)


def invented_paper(size: int = 46, number: int = 5) -> MarkedPaper:
    """A marked class test of `size` candidates; the same number gives the same test."""
    rng = random.Random(number)
    candidates = tuple(f"c{i:02d}" for i in range(1, size + 1))
    results = {}
    for candidate in candidates:
        ability = rng.gauss(0, 1)
        for part, maximum in PARTS:
            results[candidate, part] = _result(part, maximum, ability, rng)
    return MarkedPaper(
        title="Lighthouse generator",
        scheme_file="lighthouse.toml",
        scheme_sha256="0" * 64,
        responses_file="lighthouse.csv",
        responses_sha256="0" * 64,
        convention="positive three-mark",
        rulings=(),
        version="0.1.0",
        when="a Tuesday",
        parts=PARTS,
        candidates=candidates,
        results=results,
        groups={c: CLASSES[i % 3] for i, c in enumerate(candidates)},
    )


@pytest.fixture(scope="session")
def paper() -> MarkedPaper:
    return invented_paper()


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory, paper: MarkedPaper) -> tuple[Path, Path]:
    """marks.xlsx and marks.jsonl of the invented paper; not to be changed."""
    folder = tmp_path_factory.mktemp("marks")
    book, records = folder / "marks.xlsx", folder / "marks.jsonl"
    write_workbook(book, paper)
    write_records(records, paper.responses())
    return book, records


@pytest.fixture(scope="session")
def first(written: tuple[Path, Path]) -> MarkSet:
    """The marks in them."""
    return load_marks(written[0])


@pytest.fixture
def files(tmp_path: Path, written: tuple[Path, Path]) -> tuple[Path, Path]:
    """The same two files, to change at will."""
    book, records = tmp_path / "marks.xlsx", tmp_path / "marks.jsonl"
    shutil.copy(written[0], book)
    shutil.copy(written[1], records)
    return book, records


MarkTable = Callable[..., MarkSet]


@pytest.fixture
def table() -> MarkTable:
    """A set of marks from rows of (candidate, part, marker, mark), with maxima by part and classes by candidate."""

    def make(
        rows: list[tuple[str, str, str, float]], parts: dict[str, float], classes: dict[str, str] | None = None, name: str = "marks.csv"
    ) -> MarkSet:
        marks = tuple(
            Mark(candidate=c, part=p, mark=x, maximum=parts[p], marker=m, where=f"{name}, row {i}")
            for i, (c, p, m, x) in enumerate(rows, 2)
        )
        return MarkSet(marks=marks, parts=parts, classes=classes or {}, name=name)

    return make
