"""Standardisation: whether a marker qualifies on practice responses with agreed marks, and whether they drift on control responses.

Control responses have agreed marks too; they are dropped in among the ordinary ones and come back in the marker's own order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.moderation.compare import Figures, Pair, figures, pair_up
from marker.moderation.model import MarkSet, plain, refuse_one, signed
from marker.moderation.rules import DriftRule, QualifyingRule, Tolerance


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """One condition of a rule: what was asked, what was found, and whether it is met."""

    asked: str
    found: str
    met: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Qualification:
    """The result of one marker. A marker qualifies when every test is met."""

    marker: str
    figures: Figures
    tests: tuple[Condition, ...]
    parts: tuple[tuple[str, Figures], ...]
    rule: str

    @property
    def qualified(self) -> bool:
        return all(t.met for t in self.tests)


def qualify(agreed: MarkSet, marks: MarkSet, rule: QualifyingRule, tolerance: Tolerance) -> tuple[Qualification, ...]:
    """Each marker's marks of the practice responses against the agreed marks."""
    pairs = pair_up(agreed, [marks], tolerance)
    return tuple(_one(name, [p for p in pairs if p.second.marker == name], rule) for name in marks.markers)


def _one(marker: str, pairs: Sequence[Pair], rule: QualifyingRule) -> Qualification:
    found = figures(pairs, False)
    parts = tuple((part, figures([p for p in pairs if p.part == part], True)) for part in dict.fromkeys(p.part for p in pairs))
    tests = [
        _at_least("practice responses", len(pairs), rule.minimum),
        _share_at_least("marks equal to the agreed mark", found.exact.value, rule.exact),
    ]
    if rule.within:
        tests.append(_share_at_least("marks within tolerance", found.within.value, rule.within))
    if rule.bias_percent is not None:
        limit = rule.bias_percent / 100 * sum(p.first.maximum for p in pairs) / len(pairs)
        asked = f"mean difference at most {plain(limit, 2)} marks either way"
        tests.append(Condition(asked=asked, found=f"{signed(found.bias.value)}", met=abs(found.bias.value) <= limit + 1e-9))
    if rule.per_part:
        tests += [_share_at_least(f"part {part}, marks equal to the agreed mark", f.exact.value, rule.per_part) for part, f in parts]
    return Qualification(marker=marker, figures=found, tests=tuple(tests), parts=parts, rule=rule.name)


def _at_least(what: str, found: int, asked: int) -> Condition:
    return Condition(asked=f"at least {asked} {what}", found=str(found), met=found >= asked)


def _share_at_least(what: str, found: float, asked: float) -> Condition:
    return Condition(asked=f"at least {100 * asked:.0f} % of {what}", found=f"{100 * found:.0f} %", met=found >= asked - 1e-9)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """One marker's control responses in order. at: the first position (from 1) where a test failed, None when none did.

    windows   share of exact marks in each window, by the position of its last response
    """

    marker: str
    n: int
    exact: float
    at: int | None
    reason: str
    windows: tuple[tuple[int, float], ...]
    differences: tuple[float, ...]
    rule: str


def check_drift(agreed: MarkSet, marks: MarkSet, rule: DriftRule, tolerance: Tolerance) -> tuple[Drift, ...]:
    """Each marker's control responses against the agreed marks, in the marker's own order (column Order; else the order of the file)."""
    pairs = pair_up(agreed, [marks], tolerance)
    place = {(m.marker, m.response): i for i, m in enumerate(marks.marks)}
    return tuple(_drift(name, _in_order([p for p in pairs if p.second.marker == name], place), rule) for name in marks.markers)


def _in_order(pairs: Sequence[Pair], place: dict[tuple[str, tuple[str, str]], int]) -> list[Pair]:
    ordered = [p.second.order for p in pairs]
    if any(o is None for o in ordered) and any(o is not None for o in ordered):
        cell = next(p.second.where for p in pairs if p.second.order is None)
        refuse_one(cell, "no order for this mark, though others have one", mend="Fill in the column Order, or leave it out.")
    return sorted(pairs, key=lambda p: (p.second.order or 0.0, place[p.second.marker, p.second.response]))


def _drift(marker: str, pairs: Sequence[Pair], rule: DriftRule) -> Drift:
    differences = [p.difference for p in pairs]
    windows: list[tuple[int, float]] = []
    at: int | None = None
    reason = ""
    for end in range(1, len(pairs) + 1):
        trouble = ""
        if end >= rule.window:
            last = pairs[end - rule.window : end]
            exact = sum(p.difference == 0 for p in last) / rule.window
            within = sum(abs(p.difference) <= p.tolerance + 1e-9 for p in last) / rule.window
            windows.append((end, exact))
            trouble = _window_trouble(exact, within, rule)
        trouble = trouble or _run_trouble(differences[:end], rule)
        if trouble and at is None:
            at, reason = end, trouble
    if not reason:
        reason = (
            f"no drift in {len(windows)} windows of {rule.window}"
            if windows
            else f"{len(pairs)} control responses so far; a window needs {rule.window}"
        )
    share = sum(d == 0 for d in differences) / len(differences) if differences else float("nan")
    return Drift(
        marker=marker,
        n=len(pairs),
        exact=share,
        at=at,
        reason=reason,
        windows=tuple(windows),
        differences=tuple(differences),
        rule=rule.name,
    )


def _window_trouble(exact: float, within: float, rule: DriftRule) -> str:
    if exact < rule.exact - 1e-9:
        return f"only {100 * exact:.0f} % of the last {rule.window} equal the agreed mark (the rule asks {100 * rule.exact:.0f} %)"
    if within < rule.within - 1e-9:
        return f"only {100 * within:.0f} % of the last {rule.window} are within tolerance (the rule asks {100 * rule.within:.0f} %)"
    return ""


def _run_trouble(differences: Sequence[float], rule: DriftRule) -> str:
    if not rule.run or len(differences) < rule.run:
        return ""
    last = differences[-rule.run :]
    if all(d > 0 for d in last):
        return f"the last {rule.run} marks are all above the agreed mark"
    return f"the last {rule.run} marks are all below the agreed mark" if all(d < 0 for d in last) else ""
