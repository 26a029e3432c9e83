"""A second opinion on what the wordings alone leave open: all that speaks for and against an idea, weighed together.

A person is asked only where this is unsure too; where it is sure that a finding is wrong, a person is asked after all.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from functools import lru_cache

from marker.kinds.written.claims.claims import claims
from marker.kinds.written.claims.verdict import quote
from marker.kinds.written.evidence import logistic
from marker.kinds.written.finding import Finding, ask, earned, not_earned, place
from marker.kinds.written.model import Prose
from marker.kinds.written.part import Idea, WrittenPart
from marker.kinds.written.witnesses import Witnesses, statement, witnesses
from marker.resources import rubrics
from marker.results import Outcome

_OPEN = frozenset(("unsure", "doubtful"))
_TURNED = 0.65
"""From this probability on a proposal is turned."""
_WEAK = 0.8
"""What is this like a wording listed as not enough is not more than that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opinion:
    """A logistic rule: constant and one weight per witness.

    earned, not_earned  decided from here on, up to here;  agreed  earned from here on where the wordings propose it too
    surely_not, surely  a finding is doubted below, above
    """

    constant: float
    weight: Mapping[str, float]
    earned: float
    agreed: float
    not_earned: float
    surely_not: float
    surely: float

    def likelihood(self, found: Witnesses) -> float:
        """Probability that a marker would give the point."""
        return logistic(self.constant + sum(self.weight[k] * v for k, v in asdict(found).items()))


@lru_cache(maxsize=1)
def opinion() -> Opinion:
    """The rule of rubrics/written_opinion.toml."""
    table = tomllib.loads((rubrics() / "written_opinion.toml").read_text(encoding="utf-8"))
    edges = {k: float(table[k]) for k in ("constant", "earned", "agreed", "not_earned", "surely_not", "surely")}
    return Opinion(weight=dict(table["weight"]), **edges)


def reconsidered(found: Sequence[Finding], prose: Prose, part: WrittenPart) -> tuple[Finding, ...]:
    """The findings on a part's ideas, each heard once more."""
    if part.light or prose.blank or prose.overlong:
        return tuple(found)
    return tuple(_one(f, i, prose, part) for f, i in zip(found, part.ideas, strict=True))


def _one(finding: Finding, idea: Idea, prose: Prose, part: WrittenPart) -> Finding:
    if idea.wants is None or not idea.wants.says or idea.required or idea.relation is not None or idea.learned is not None:
        return finding
    rule, heard = opinion(), witnesses(idea, idea.wants, part, prose)
    likely = min(rule.likelihood(heard), rule.surely_not if heard.against else rule.surely if heard.opposite else 1.0)
    if finding.outcome is Outcome.REFERRED:
        return _settled(finding, idea, prose, part, heard, likely) if finding.code in _OPEN else finding
    if finding.outcome is Outcome.EARNED and likely < rule.surely_not:
        reason = f"{place(finding.lines)} “{finding.words}” may not be good enough for “{idea.states}”."
        return replace(ask(True, "doubtful", reason, finding.lines, finding.words, likely), segments=finding.segments)
    if finding.outcome is Outcome.NOT_EARNED and finding.code != "contradicted" and heard.like_weak < _WEAK and likely > rule.surely:
        words, lines = _words(idea, prose, part)
        return ask(False, "unsure", f"{place(lines)} “{words}” may say in other words: {idea.states}.", lines, words, likely)
    return finding


def _settled(finding: Finding, idea: Idea, prose: Prose, part: WrittenPart, heard: Witnesses, likely: float) -> Finding:
    rule, hedged = opinion(), any(c.hedged for c in prose.clauses)
    words, lines = _words(idea, prose, part)
    agreed = finding.earned and not (heard.against or heard.opposite or heard.weak)
    if likely >= (rule.agreed if agreed else rule.earned) and words and not hedged:
        return earned("said", f"{place(lines)} “{words}” says in other words: {idea.states}.", lines, words, likely)
    if likely <= rule.not_earned and not hedged:
        return replace(not_earned("not said", f"Not stated: {idea.states}.", likely=likely), contradiction=finding.contradiction)
    return replace(finding, earned=finding.earned if hedged else _proposed(finding, likely), likelihood=likely)


def _proposed(finding: Finding, likely: float) -> bool:
    """What is proposed to the person who decides: as the wordings have it, unless the second opinion is plainly another."""
    return likely >= (1 - _TURNED if finding.earned else _TURNED)


def _words(idea: Idea, prose: Prose, part: WrittenPart) -> tuple[str, tuple[int, ...]]:
    said = claims(prose.lines, part.speech)
    tokens = statement(idea.wants, said) if idea.wants else ()
    return quote(tokens, prose.lines), tuple(sorted({t.line for t in tokens}))
