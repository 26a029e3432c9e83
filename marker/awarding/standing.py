"""Which of the evidence stands: work crossed out, wrong attempts mended later."""

from __future__ import annotations

from collections.abc import Sequence

from marker.awarding.adopting import adopt_lone_values, with_fractions
from marker.awarding.listed import triangles
from marker.judging.model import Evidence, JudgedScript, Kind
from marker.scheme.compiled import CompiledCalculation

WORK = frozenset({Kind.RELATIONSHIP, Kind.SUBSTITUTION, Kind.VALUE, Kind.ARITHMETIC})


Standing = tuple[tuple[Evidence, ...], tuple[Evidence, ...]]


def standing_evidence(part: CompiledCalculation, script: JudgedScript) -> tuple[Standing, ...]:
    """(evidence to be marked, attempts mended later) under the ruling on crossed-out work; more than one pair where the best counts."""
    return tuple(_made_ready(part, script, one) for one in _by_ruling(part, script))


def _made_ready(part: CompiledCalculation, script: JudgedScript, evidence: Sequence[Evidence]) -> Standing:
    drawn = triangles(part, script.lines) if part.convention.unselected_list else ()
    ready = with_fractions(part, adopt_lone_values(part, (*drawn, *evidence)))
    kept = without_superseded(ready)
    return kept, tuple(e for e in ready if not any(e is k for k in kept))


def _by_ruling(part: CompiledCalculation, script: JudgedScript) -> tuple[tuple[Evidence, ...], ...]:
    standing, crossed, ruling = script.evidence, script.crossed, part.convention.crossed_out
    if not crossed or ruling == "never":
        return (standing,)
    if ruling == "best":
        first = min(e.line for e in crossed)
        return standing, (*(e for e in standing if e.line < first), *crossed)
    kept = tuple(e for e in crossed if not _replaced(part, e, standing))
    return ((*kept, *standing),)


def _replaced(part: CompiledCalculation, e: Evidence, standing: Sequence[Evidence]) -> bool:
    """Work on the same goal stands uncrossed; what stands for the steps before a goal does not replace the goal's own."""
    goals = _goals(part, e)
    work = [s for s in standing if s.kind in WORK and goals & _goals(part, s)]
    before = e.about in {g.find for g in part.goals} and all(s.about and s.about != e.about for s in work)
    return bool(work) and not before


def _goals(part: CompiledCalculation, e: Evidence) -> frozenset[str]:
    """The goals a piece of evidence is work on; all of them where none can be told."""
    named = {g.find for g in part.goals}
    if e.about in named:
        return frozenset({e.about})
    found = frozenset(g.find for g in part.goals if g.relations & e.relations)
    return found or frozenset(named)


def without_superseded(evidence: Sequence[Evidence]) -> tuple[Evidence, ...]:
    """Leaves out wrong attempts in numbers at a quantity that is found rightly, without a fault, in a later line."""
    clean = [e.kind is Kind.VALUE and e.right and not (e.slips or e.inherited or e.tainted) for e in evidence]
    mended = {e.about: i for i, e in enumerate(evidence) if clean[i] and e.about}

    def stands(i: int, e: Evidence) -> bool:
        wrong = bool(e.slips or e.tainted) and not e.symbolic and not e.alternative
        return not (wrong and i < mended.get(e.about, -1))

    return tuple(e for i, e in enumerate(evidence) if stands(i, e))
