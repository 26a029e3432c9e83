"""The responses of the invented class tests, to hold the laws of marking to: a fixed sample, the same every time."""

from __future__ import annotations

import csv
import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from marker import build_paper
from marker.marking import mark_candidate
from marker.results import PartResult
from marker.scheme.paper import CompiledPart, Paper, load_scheme

TESTS = Path(__file__).resolve().parent.parent
FOLDERS = {p.name: p for p in sorted((TESTS / "classtests").iterdir()) if (p / "scheme.toml").exists()}


@dataclass(frozen=True)
class Typed:
    """One response to one part: which class test, which candidate, the lines typed."""

    test: str
    candidate: str
    part: str
    lines: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.test} {self.candidate} {self.part}"


@cache
def paper_of(test: str) -> Paper:
    return load_scheme(FOLDERS[test] / "scheme.toml")


@cache
def rows_of(test: str) -> Mapping[str, Mapping[str, tuple[str, ...]]]:
    """candidate -> part -> lines."""
    with (FOLDERS[test] / "responses.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    names = [p.name for p in paper_of(test).parts]
    return {r["candidate"]: {n: tuple(r[n].split("\n")) if r.get(n) else () for n in names} for r in rows}


@cache
def calculations() -> tuple[Typed, ...]:
    """Every response that is not blank to a part that is a calculation."""
    found = []
    for test in FOLDERS:
        names = [p.name for p in paper_of(test).parts if p.spec.kind == "calculation"]
        for candidate, typed in rows_of(test).items():
            found.extend(Typed(test, candidate, n, typed[n]) for n in names if any(x.strip() for x in typed[n]))
    return tuple(found)


def sample(of: Sequence[Typed], size: int, draw: int) -> list[Typed]:
    """The same `size` of them every time, another choice for each `draw`."""
    return Random(draw).sample(list(of), min(size, len(of)))


def part_of(t: Typed) -> CompiledPart:
    return paper_of(t.test).part(t.part)


def marked(t: Typed, lines: Sequence[str] | None = None, paper: Paper | None = None) -> PartResult:
    """The response's result within its candidate's whole script; with other lines, or by another paper."""
    typed = dict(rows_of(t.test)[t.candidate])
    if lines is not None:
        typed[t.part] = tuple(lines)
    results = mark_candidate(paper or paper_of(t.test), typed)
    return next(r for r in results if r.part == t.part)


@cache
def scheme_of(test: str) -> Mapping[str, Any]:
    return tomllib.loads((FOLDERS[test] / "scheme.toml").read_text(encoding="utf-8"))


def with_part(t: Typed, change: Callable[[dict[str, Any]], None]) -> Paper:
    """The class test's paper with one part changed."""
    made = tomllib.loads((FOLDERS[t.test] / "scheme.toml").read_text(encoding="utf-8"))
    change(next(p for p in made["part"] if p["name"] == t.part))
    return build_paper(made)


# --- the same response in another hand --------------------------------------------------------------

SUPERSCRIPTS = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
PLAIN = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
_CARET = re.compile(r"\^(?:\(([-−]?\d+)\)|([-−]?\d+))(?![\d./,A-Za-z])")
HANDS: Mapping[str, Callable[[str], str]] = {
    "raised powers": lambda t: _CARET.sub(lambda m: (m[1] or m[2]).replace("−", "-").translate(SUPERSCRIPTS), t),
    "powers with a caret": lambda t: re.sub(r"[⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+(?![⁰¹²³⁴⁵⁶⁷⁸⁹⁻√])", lambda m: "^" + m[0].translate(PLAIN), t),
    "wide spaces about =": lambda t: t.replace(" = ", "   =   "),
    "no spaces about =": lambda t: re.sub(r" ?= ?", "=", t),
    "no spaces about a cross": lambda t: re.sub(r"(?<=[\d)])\s?([x×*])\s?(?=[\d(.])", r"\1", t),
    "spaces about a cross": lambda t: re.sub(r"(?<=[\d)])\s?([x×*])\s?(?=[\d(.])", r" \1 ", t),
    "spaces at the ends": lambda t: f"  {t}  ",
    "raised dot for times": lambda t: re.sub(r"×|(?<!\*)\*(?!\*)", "·", t),
    "cross for times": lambda t: re.sub(r"(?<!\*)\*(?!\*)", " × ", t),
    "long minus": lambda t: re.sub(r"(?<=[\s(^])-(?=\d)", "−", t),
}
