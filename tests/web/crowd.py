"""A class test with as many referrals as one likes: the same responses over and over, told apart by their own values."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from marker.results import OwnValue
from marker.web.storage import Store, open_store
from marker.web.storage.class_tests import keep_class_test
from tests.web.scene import marked, result, scheme_copy


def store_with_referrals(where: str | Path, referrals: int = 5_000, alike: int = 4) -> tuple[Store, int]:
    """A store with so many referred responses, in groups of `alike`, beside twice as many that were not referred."""
    first = marked()
    names = tuple(f"n{n:05d}" for n in range(referrals))
    waiting = result("c06", "1a")
    others = {part: result("c11", part) for part in ("1b", "2")}
    results = {(name, part): r for name in names for part, r in others.items()}
    for n, name in enumerate(names):
        own = OwnValue(symbol="I", value=0.2 + n // alike, typed="0.20", unit="A")
        results[name, "1a"] = replace(waiting, own=(own,))
    store = open_store(where)
    crowd = replace(first, candidates=names, results=results, groups={}, responses_file="crowd.csv")
    return store, keep_class_test(store, scheme_copy(), crowd, "Teacher", practice=True).id
