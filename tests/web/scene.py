"""A class test in a scenario of our own for the pages: the tide mill at a river mouth.

The scheme is real and is marked by the package; the referrals are attached by hand, so that which responses are alike, and
what each possibility is worth, is known beforehand.
"""

from __future__ import annotations

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path

from marker import build_paper, mark_response
from marker.reporting import MarkedPaper
from marker.results import PartResult, Possibility, Referral
from marker.scheme.paper import Paper
from marker.web.settings import Limits, Settings
from marker.web.storage import Store, open_store
from marker.web.storage.class_tests import keep_class_test
from marker.web.storage.model import SchemeCopy

SCHEME = """
[paper]
title = "Class test: the tide mill"

[paper.data]
g = ["9.81 N/kg", "9.8 N/kg"]

[[part]]
name = "1a"
marks = 3
stem = "The lamp over the mill race takes 46 W from a 230 V supply. Find the current in it."
given = { P = "46 W", V = "230 V" }
find = "I"
using = ["P = I*V"]

[[part]]
name = "1b"
marks = 4
stem = "The sluice gate has a mass of 1350 kg. A winch raises it through 2.40 m in 85.0 s. Find the power needed."
given = { m = "1350 kg", h = "2.40 m", t = "85.0 s" }
find = "P"
using = ["E = m*g*h", "P = E/t"]

[[part]]
name = "2"
marks = 3
stem = "Water of density 1025 kg/m^3 stands 3.2 m above the sill. Find the pressure of the water at the sill."
given = { "ρ" = "1025 kg/m^3", h = "3.2 m" }
find = "p"
using = ["p = ρ*g*h"]
"""

RIGHT = {
    "1a": ("P = IV", "46 = I × 230", "I = 0.20 A"),
    "1b": ("E = mgh", "E = 1350 × 9.81 × 2.4 = 31784 J", "P = E/t = 31784/85", "P = 374 W"),
    "2": ("p = ρgh", "p = 1025 × 9.81 × 3.2", "p = 32000 Pa"),
}
SWAPPED = ("P = IV", "I = 230/46", "I = 5.0 A")
TWO_WAYS = ("p = ρgh = 1025 × 9.81 × 3.2 = 32 k",)
HALF_READ = ("P = IV", "46 = I ((230", "I = 0.20")
HOSTILE = ("<img src=x onerror=\"document.title='broken'\">", "<script>document.title='broken'</script>", "</textarea><b>I = 0.20 A</b>")
CANDIDATES = tuple(f"c{n:02d}" for n in range(1, 13))
NO_LIMITS = Limits(lines_a_minute=6000, lines_at_once=1000, draws_a_minute=6000, draws_at_once=1000, newcomers_at_once=1000)


@cache
def paper() -> Paper:
    return build_paper(tomllib.loads(SCHEME))


def typed(candidate: str, part: str) -> tuple[str, ...]:
    """c01 to c05 answer part 2 in one way that can be read twice, c06 and c07 part 1a half legibly, c08 is hostile in 1a."""
    number = int(candidate[1:])
    if part == "2" and number <= 5:
        return TWO_WAYS
    if part == "1a":
        return {6: HALF_READ, 7: HALF_READ, 8: HOSTILE, 9: SWAPPED, 10: SWAPPED}.get(number, RIGHT["1a"])
    return RIGHT[part]


def result(candidate: str, part: str) -> PartResult:
    marked = mark_response(paper().part(part), typed(candidate, part))
    number = int(candidate[1:])
    if part == "2" and number <= 5:
        return _referred(
            marked, 2, "The last value can be read as 32 kPa or as 32 times a letter k.", "32 k is an unfinished unit", "32 kPa is meant", 3
        )
    if part == "1a" and number in (6, 7):
        return _referred(
            marked, 1, "Line 2 could not be read, and a mark hangs on it.", "Line 2 shows nothing", "Line 2 is the substitution", 2
        )
    if part == "1a" and number == 8:
        return _referred(marked, 0, "No line could be read <b>at all</b>.", "Nothing is shown", '<i onclick="x()">All</i> is shown', 3)
    return replace(marked, referral=None)


def _referred(marked: PartResult, mark: float, reason: str, less: str, more: str, worth: float) -> PartResult:
    possibilities = (Possibility(text=less, mark=mark), Possibility(text=more, mark=worth))
    return replace(marked, mark=mark, referral=Referral(reason=reason, possibilities=possibilities))


@cache
def marked() -> MarkedPaper:
    return MarkedPaper(
        title=paper().title,
        scheme_file="tide-mill.toml",
        scheme_sha256="5b" * 32,
        responses_file="tide-mill.csv",
        responses_sha256="c4" * 32,
        convention=paper().convention.name,
        rulings=(("answer_only", "unless show", "positive three-mark"),),
        version="0.1.0",
        when="9 March, 15:20",
        parts=tuple((p.name, p.marks) for p in paper().parts),
        candidates=CANDIDATES,
        results={(c, p.name): result(c, p.name) for c in CANDIDATES for p in paper().parts},
        groups={c: "6A" if n % 2 else "6B" for n, c in enumerate(CANDIDATES)},
    )


def scheme_copy() -> SchemeCopy:
    return SchemeCopy(name="tide-mill.toml", text=SCHEME, sha256="5b" * 32, convention="", beside={})


def store_with_class(where: str | Path, practice: bool = True) -> tuple[Store, int]:
    """An open store holding the class test, and its id."""
    store = open_store(where)
    return store, keep_class_test(store, scheme_copy(), marked(), "Teacher", practice=practice).id


def settings(**changes: object) -> Settings:
    return replace(Settings(limits=NO_LIMITS), **changes)  # type: ignore[arg-type]
