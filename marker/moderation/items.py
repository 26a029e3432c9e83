"""How the parts and points of a paper worked: facility, discrimination, consistency, and what wrong answers came up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd

from marker.moderation.agreement import Estimate, Floats
from marker.moderation.model import Mark, MarkSet
from marker.moderation.reliability import alpha_from_variances, cronbach_alpha
from marker.moderation.rules import AlphaUse, ItemFile, ItemRule

NAN = float("nan")


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """A rule of thumb that an item falls foul of, with the figure, the limit and the rule's source."""

    rule: str
    says: str
    figure: float
    limit: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """Figures of one part (`point` is "") or of one marking point of it.

    facility        mean mark over maximum;  discrimination  facility of the upper tail minus that of the lower
    item_total      correlation with the total of everything else;  alpha_without  alpha of the paper without this part, nan for a point
    no_response     share of candidates who typed nothing, nan when the responses are not known
    """

    part: str
    point: str
    n: int
    maximum: float
    mean: float
    deviation: float
    facility: float
    discrimination: float
    item_total: float
    alpha_without: float = NAN
    no_response: float = NAN
    flags: tuple[Flag, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultCount:
    """One fault on one part: how many candidates show it, their share, their mean mark, and up to three different lines as typed."""

    part: str
    code: str
    count: int
    share: float
    mean: float
    examples: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """Figures of the whole paper. sem: standard error of measurement in marks, SD × √(1 − alpha); variances have divisor n − 1."""

    candidates: int
    maximum: float
    mean: float
    deviation: float
    alpha: Estimate
    sem: float
    zero_one: bool
    uses: tuple[tuple[AlphaUse, bool], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemAnalysis:
    paper: Paper
    parts: tuple[Item, ...]
    points: tuple[Item, ...]
    faults: tuple[FaultCount, ...]
    totals: tuple[tuple[str, float], ...]
    tail: float
    left_out: tuple[str, ...]


def tail_weights(totals: Sequence[float] | Floats, share: float) -> tuple[Floats, Floats]:
    """Membership, 0 to 1, of each candidate in the upper and in the lower group, each `share` of the candidates (at least one).

    Candidates tied at the edge of a group share its remaining places equally, so that the order of the file does not matter.
    """
    t = np.asarray(totals, dtype=float)
    size = max(1, int(np.floor(share * len(t) + 0.5)))
    return _tail(t, size), _tail(-t, size)


def _tail(t: Floats, size: int) -> Floats:
    edge = np.sort(t)[::-1][size - 1]
    above, tied = t > edge, t == edge
    weights: Floats = above.astype(np.float64)
    weights[tied] = (size - above.sum()) / tied.sum()
    return weights


def discrimination(scores: Sequence[float] | Floats, totals: Sequence[float] | Floats, maximum: float = 1, share: float = 0.27) -> float:
    """Facility in the upper group minus facility in the lower group, −1 to 1."""
    x = np.asarray(scores, dtype=float)
    upper, lower = tail_weights(totals, share)
    return float((x @ upper) / upper.sum() - (x @ lower) / lower.sum()) / maximum


def correlation(a: Floats, b: Floats) -> float:
    """Pearson's r; nan when either does not vary."""
    if len(a) < 3 or np.ptp(a) == 0 or np.ptp(b) == 0:
        return NAN
    return float(np.corrcoef(a, b)[0, 1])


def analyse(marks: MarkSet, rules: ItemFile) -> ItemAnalysis:
    """Item analysis of the marks of one paper; where several markers marked a response, their mean counts.

    Candidates without a mark for every part are left out and named in `left_out`.
    """
    frame = _frame(marks)
    whole = frame.dropna()
    left_out = tuple(str(c) for c in frame.index.difference(whole.index, sort=False))
    table = whole.to_numpy(dtype=float)
    totals = table.sum(axis=1) if len(table) else np.zeros(0)
    names = tuple(str(c) for c in whole.index)
    share = rules.groups.share
    return ItemAnalysis(
        paper=_paper(table, totals, marks, rules),
        parts=tuple(_part(marks, p, i, table, totals, share, names, rules.rule) for i, p in enumerate(marks.parts)) if len(table) else (),
        points=_points(marks, dict(zip(names, totals, strict=True)), share, rules.rule),
        faults=_faults(marks),
        totals=tuple(zip(names, (float(t) for t in totals), strict=True)),
        tail=share,
        left_out=left_out,
    )


def _frame(marks: MarkSet) -> pd.DataFrame:
    """Candidates × parts, in the order of the file and of the paper; nan where there is no mark."""
    long = pd.DataFrame([(m.candidate, m.part, m.mark) for m in marks.marks], columns=["candidate", "part", "mark"])
    wide = long.pivot_table(index="candidate", columns="part", values="mark", aggfunc="mean", sort=False)
    return wide.reindex(index=list(marks.candidates), columns=list(marks.parts))


def _paper(table: Floats, totals: Floats, marks: MarkSet, rules: ItemFile) -> Paper:
    alpha = cronbach_alpha(table) if len(table) else Estimate(value=NAN)
    deviation = float(totals.std(ddof=1)) if len(totals) > 1 else NAN
    sem = deviation * float(np.sqrt(max(0.0, 1 - alpha.value))) if not np.isnan(alpha.value) else NAN
    return Paper(
        candidates=len(totals),
        maximum=marks.maximum,
        mean=float(totals.mean()) if len(totals) else NAN,
        deviation=deviation,
        alpha=alpha,
        sem=sem,
        zero_one=bool(set(np.unique(table)) <= {0.0, 1.0}),
        uses=tuple((use, bool(alpha.value >= use.least)) for use in rules.alpha),
    )


def _part(
    marks: MarkSet, part: str, column: int, table: Floats, totals: Floats, share: float, names: Sequence[str], rules: Sequence[ItemRule]
) -> Item:
    x = table[:, column]
    rest = np.delete(table, column, axis=1)
    without = (
        alpha_from_variances(rest.shape[1], float(rest.var(axis=0, ddof=1).sum()), float(rest.sum(axis=1).var(ddof=1)))
        if len(x) > 1
        else NAN
    )
    given = [m for m in marks.marks if m.part == part]
    known = any(m.text for m in marks.marks)
    figures = _figures(part, "", x, totals, marks.parts[part], share)
    whole = cronbach_alpha(table).value
    measures = {
        "alpha without": without - whole,
        "no response": sum(not m.text.strip() for m in given) / len(given) if known and given else NAN,
    }
    return _flagged(figures, rules, "part", measures, alpha_without=without)


def _points(marks: MarkSet, totals: Mapping[str, float], share: float, rules: Sequence[ItemRule]) -> tuple[Item, ...]:
    """One item per marking point that the candidates' records name; candidates marked by another route do not count for it."""
    found: dict[tuple[str, str], list[tuple[str, float, float]]] = {}
    for mark in marks.marks:
        for point in mark.points:
            if mark.candidate in totals:
                found.setdefault((mark.part, point.name), []).append((mark.candidate, point.mark, point.maximum))
    order = {part: i for i, part in enumerate(marks.parts)}
    items = []
    for (part, name), rows in sorted(found.items(), key=lambda kv: order.get(kv[0][0], 0)):
        x = np.asarray([r[1] for r in rows], dtype=float)
        t = np.asarray([totals[r[0]] for r in rows], dtype=float)
        items.append(_flagged(_figures(part, name, x, t, max(r[2] for r in rows), share), rules, "point", {}))
    return tuple(items)


def _figures(part: str, point: str, x: Floats, totals: Floats, maximum: float, share: float) -> Item:
    return Item(
        part=part,
        point=point,
        n=len(x),
        maximum=maximum,
        mean=float(x.mean()),
        deviation=float(x.std(ddof=1)) if len(x) > 1 else NAN,
        facility=float(x.mean()) / maximum,
        discrimination=discrimination(x, totals, maximum, share) if len(x) > 1 else NAN,
        item_total=correlation(x, totals - x),
    )


def _flagged(item: Item, rules: Sequence[ItemRule], scope: str, more: Mapping[str, float], alpha_without: float = NAN) -> Item:
    measures = {"facility": item.facility, "discrimination": item.discrimination, "item total": item.item_total, **more}
    flags = []
    for rule in rules:
        figure = measures.get(rule.measure, NAN)
        if rule.scope not in (scope, "both") or np.isnan(figure):
            continue
        for limit, off in (
            (rule.below, rule.below is not None and figure < rule.below - 1e-9),
            (rule.above, rule.above is not None and figure > rule.above + 1e-9),
        ):
            if off and limit is not None:
                flags.append(Flag(rule=rule.name, says=rule.says, figure=figure, limit=limit, source=rule.source))
    return Item(
        part=item.part,
        point=item.point,
        n=item.n,
        maximum=item.maximum,
        mean=item.mean,
        deviation=item.deviation,
        facility=item.facility,
        discrimination=item.discrimination,
        item_total=item.item_total,
        alpha_without=alpha_without,
        no_response=more.get("no response", NAN),
        flags=tuple(flags),
    )


def _faults(marks: MarkSet) -> tuple[FaultCount, ...]:
    """Faults of each part, commonest first: the distractors of a typed answer."""
    found: dict[tuple[str, str], dict[str, tuple[Mark, str]]] = {}
    for mark in marks.marks:
        for code, line in mark.faults:
            found.setdefault((mark.part, code), {}).setdefault(mark.candidate, (mark, line))
    order = {part: i for i, part in enumerate(marks.parts)}
    sizes = {part: len({m.candidate for m in marks.marks if m.part == part}) for part in marks.parts}
    rows = [
        FaultCount(
            part=part,
            code=code,
            count=len(who),
            share=len(who) / sizes[part],
            mean=sum(m.mark for m, _ in who.values()) / len(who),
            examples=tuple(dict.fromkeys(line for _, line in who.values() if line))[:3],
        )
        for (part, code), who in found.items()
    ]
    return tuple(sorted(rows, key=lambda r: (order.get(r.part, 0), -r.count, r.code)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Boundary:
    """What if the least mark of a grade were this one: candidates at or above, their share, and those within one SEM either side."""

    grade: str
    mark: float
    moved: int
    at_or_above: int
    share: float
    near: int


def boundaries(
    totals: Sequence[float], limits: Mapping[str, float], sem: float, moves: Sequence[int] = (-2, -1, 0, 1, 2)
) -> tuple[Boundary, ...]:
    """Each grade's least mark as set and moved by a few marks."""
    rows = []
    for grade, limit in sorted(limits.items(), key=lambda kv: -kv[1]):
        for moved in moves:
            mark = limit + moved
            count = sum(t >= mark - 1e-9 for t in totals)
            near = 0 if np.isnan(sem) else sum(abs(t - mark) <= sem for t in totals)
            rows.append(
                Boundary(grade=grade, mark=mark, moved=moved, at_or_above=count, share=count / len(totals) if totals else NAN, near=near)
            )
    return tuple(rows)
