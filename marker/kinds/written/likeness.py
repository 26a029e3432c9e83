"""Whether a response states an idea, judged by its words: for accepted answers, relations, and with settled responses to go by.

Decided only on clear evidence. In this order: nothing said; a wording the scheme lists as cancelling; required terms, relation or
a sample wording found whole; a spelling that leaves the term open; a wording the scheme lists as not enough; and last, how likely a
marker would be to give the point.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.kinds.written.evidence import likelihood, logistic, weights
from marker.kinds.written.finding import Finding, ask, at, earned, line_numbers, not_earned, place
from marker.kinds.written.learning import contradicts, witnesses
from marker.kinds.written.match import Match, denied, listed, nearest, plainly
from marker.kinds.written.model import Item, Prose
from marker.kinds.written.part import Idea, WrittenPart
from marker.kinds.written.relation import NOTHING, Found, Link, relate

_STRANGE_WORDS = 2
"""With more words than this that neither question nor scheme uses, a missing idea may have been put in words of the candidate's own."""
_CHANGES = frozenset(("up", "down", "steady"))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Said:
    """What earns an idea: the items, or the lines and words of a relation."""

    lines: tuple[int, ...]
    words: str
    items: tuple[Item, ...] = ()
    accounts: frozenset[str] = frozenset()


def by_likeness(idea: Idea, prose: Prose, part: WrittenPart) -> Finding:
    """The finding on one idea by its words."""
    if prose.blank:
        return not_earned("blank", "Nothing is said that could be marked.")
    if prose.overlong:
        return ask(False, "overlong", "The response is longer than is read; a person should mark it.")
    relation = relate(prose, idea.relation, part.stated) if idea.relation else NOTHING
    against, said = _against(idea, prose, part, relation), _said(idea, prose, part, relation)
    if against is not None and (said is None or part.list_rule == "wrong cancels right"):
        return replace(against, contradiction=True)
    best = nearest(idea, prose, part)
    likely = _likely(idea, prose, best.odds)
    if said is not None:
        return replace(_weighed(said, idea, prose, part, against, likely), accounts=said.accounts)
    heard = contradicts(idea.learned, prose) if idea.learned else None
    contrary = bool(best.found.denied or best.found.contrary) if heard is None else heard
    return replace(_spelling(idea, prose) or _unsaid(idea, prose, part, best, likely), contradiction=contrary)


def _likely(idea: Idea, prose: Prose, odds: float) -> float:
    """Probability that a marker would give the point; settled responses are heard where there are any."""
    if idea.learned is None:
        return logistic(odds)
    return likelihood(witnesses(idea.learned, prose, odds), weights("settled"))


def _against(idea: Idea, prose: Prose, part: WrittenPart, relation: Found) -> Finding | None:
    """A wording that cancels the idea, or its relation the other way about."""
    if words := listed(idea.contradicts, prose, part, idea.samples):
        found = not_earned("contradicted", f"{at(words, prose)} contradicts “{idea.states}”.", line_numbers(words), prose.quote(words))
        return replace(found, accounts=frozenset(i.concept for i in words))
    if relation.link is Link.OPPOSITE:
        reason = f"{place(relation.lines)} “{relation.words}” is the other way about; wanted: {idea.states}."
        return replace(not_earned("contradicted", reason, relation.lines, relation.words), accounts=idea.relation_concepts)
    return None


def _said(idea: Idea, prose: Prose, part: WrittenPart, relation: Found) -> _Said | None:
    """What earns the idea: its required terms, its relation, or one sample wording with nothing against it."""
    terms = required(idea, prose, part) if idea.required else ()
    if terms and relation.link is not Link.OPPOSITE:
        return _from(terms, prose)
    exact = idea.relation is not None and idea.relation.kind in ("proportional", "inverse")
    if relation.link is Link.FOUND and (exact or not idea.required):
        return _Said(lines=relation.lines, words=relation.words, accounts=idea.relation_concepts)
    words = () if part.light else plainly(idea, prose, part)
    return _from(words, prose) if words else None


def _from(items: tuple[Item, ...], prose: Prose) -> _Said:
    return _Said(lines=line_numbers(items), words=prose.quote(items), items=items, accounts=frozenset(i.concept for i in items))


def required(idea: Idea, prose: Prose, part: WrittenPart) -> tuple[Item, ...]:
    """One alternative of every required term, with its sign; () when one is missing."""
    used: list[Item] = []
    here = tuple(prose.mentions())
    for alternatives in idea.required:
        met = next((m for wanted in alternatives if (m := _present(wanted, here, part))), ())
        if not met:
            return ()
        used.extend(met)
    return tuple(used)


def _present(wanted: Sequence[Item], here: Sequence[Item], part: WrittenPart) -> tuple[Item, ...]:
    """The items that say a term; () when one is missing, or is denied or excluded somewhere."""
    met: list[Item] = []
    named = {w.concept for w in wanted}
    for item in wanted:
        same = [h for h in here if h.concept == item.concept]
        excluding = part.known.lexicon.contraries.get(item.concept, frozenset()) - named
        if not same or any(h.sign != item.sign for h in same) or any(h.concept in excluding and h.sign > 0 for h in here):
            return ()
        met.append(same[0])
    return tuple(met)


def _weighed(said: _Said, idea: Idea, prose: Prose, part: WrittenPart, against: Finding | None, likely: float) -> Finding:
    """Earned, unless it is offered with a doubt, or something else in the response goes against it."""
    where = f"{place(said.lines)} “{said.words}”"
    if against is not None:
        if part.list_rule == "first" and against.lines[:1] < said.lines[:1]:
            return against
        return earned("said", f"{where}: {idea.states}; by the list rule {against.words} is passed over.", said.lines, said.words, likely)
    if _hedged(said, prose):
        return ask(True, "doubtful", f"{where}: {idea.states}, but offered with a doubt.", said.lines, said.words, likely)
    if clash := _clash(said.items, prose, part):
        reason = f"{where}: {idea.states}, but line {clash.line} “{clash.typed}” goes against it."
        return ask(False, "doubtful", reason, (*said.lines, clash.line), said.words, likely)
    return earned("said", f"{where}: {idea.states}.", said.lines, said.words, likely)


def _hedged(said: _Said, prose: Prose) -> bool:
    """True when a clause that says it is in a sentence with a maybe."""
    places = {(i.line, i.at) for i in said.items}
    return any(c.hedged and any((i.line, i.at) in places if places else i.line in said.lines for i in c.items) for c in prose.clauses)


def _clash(said: Sequence[Item], prose: Prose, part: WrittenPart) -> Item | None:
    """A word elsewhere that denies or excludes one of the words the idea was earned by."""
    return next((i for i in prose.mentions() if any(_denies(i, own, part) or _excludes(i, own, said, part) for own in said)), None)


def _denies(item: Item, own: Item, part: WrittenPart) -> bool:
    """Said with the other sign. That something was named elsewhere does not deny "no mass" or "zero reading"."""
    mere = own.sign < 0 and own.concept not in part.known.lexicon.polar
    return not mere and item.concept == own.concept and item.sign != own.sign and item.of == own.of


def _excludes(item: Item, own: Item, said: Sequence[Item], part: WrittenPart) -> bool:
    if item.sign < 0 or own.sign < 0 or own.concept not in part.known.lexicon.contraries.get(item.concept, frozenset()):
        return False
    if {item.concept, own.concept} & _CHANGES:
        return item.of == own.of != ""
    return item.concept not in part.used and all(item.concept != s.concept for s in said)


def _spelling(idea: Idea, prose: Prose) -> Finding | None:
    """A misspelling that lies between two terms, where one of them is wanted."""
    for item in prose.rivals:
        if set(item.rivals) & idea.concepts:
            reason = f"Line {item.line}: “{item.typed}” may be {' or '.join(item.rivals)}; the spelling leaves it open."
            return ask(False, "spelling", reason, (item.line,), item.typed)
    return None


def _unsaid(idea: Idea, prose: Prose, part: WrittenPart, best: Match, likely: float) -> Finding:
    """No plain statement of the idea: decided by likelihood where that is clear enough, otherwise for a person."""
    rule = weights("settled" if idea.learned else "wordings")
    taught = part.light or idea.learned is not None
    lines, words = line_numbers(best.near), prose.quote(best.near)
    if taught and likely >= rule.earned and not best.found.hedged:
        says = f"{at(best.near, prose)}: {best.sample.text}." if best.near else f"Settled responses like it earned: {idea.states}."
        return earned("said", says, lines, words, likely)
    if not taught and (words_denied := denied(idea, prose, part)):
        reason = f"{at(words_denied, prose)} denies it; wanted: {idea.states}."
        found = not_earned("contradicted", reason, line_numbers(words_denied), prose.quote(words_denied), likely)
        return replace(found, accounts=frozenset(i.concept for i in words_denied))
    if weak := listed(idea.not_enough, prose, part, idea.samples):
        reason = f"{at(weak, prose)} is not enough for “{idea.states}”."
        if best.found.strange > _STRANGE_WORDS:
            more = f"{reason} The rest of the response may say more."
            return ask(False, "not enough", more, line_numbers(weak), prose.quote(weak), likely)
        return not_earned("not enough", reason, line_numbers(weak), prose.quote(weak), likely)
    if likely <= rule.not_earned or ((best.absent or best.denied) and likely <= (rule.absent if part.light else rule.absent_idea)):
        if best.found.denied or best.found.contrary or best.found.swapped:
            reason = f"{at(best.near or best.items, prose)} does not agree with “{best.sample.text}”."
            return not_earned("contradicted", reason, lines, words, likely)
        return not_earned("not said", f"Not stated: {idea.states}.", likely=likely)
    if best.near:
        return ask(likely >= 0.5, "unsure", f"{at(best.near, prose)} may be meant for “{idea.states}”.", lines, words, likely)
    return ask(likely >= 0.5, "unsure", f"Not plainly stated, and it may be meant in other words: {idea.states}.", likely=likely)
