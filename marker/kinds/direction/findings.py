"""What a response is worth for each direction asked: right, wrong or open, and why."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from marker.kinds.direction.claims import Response
from marker.kinds.direction.compiling import Asked, CompiledDirection, agrees
from marker.kinds.direction.mentions import Mention
from marker.kinds.direction.sharing import same_direction
from marker.kinds.direction.vectors import Direction, added, named, pointing, scaled
from marker.kinds.words import in_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What stands for one direction asked.

    possible  (True,), (False,) or both when a person must decide
    because   a clause for the teacher;  doubt  why it is open, "" when it is not
    lines     numbers of the lines that speak of it;  said  the direction that counts, None when there is none to name
    """

    possible: tuple[bool, ...]
    because: str
    lines: tuple[int, ...] = ()
    said: Direction | None = None
    doubt: str = ""
    conflict: bool = False
    silent: bool = False


def find(part: CompiledDirection, index: int, response: Response) -> Finding:
    """The finding for one direction asked, under the part's rulings."""
    ask = part.asks[index]
    standing = response.standing.get(index, ())
    given_up = response.given_up.get(index, ())
    ruling = part.convention.crossed_out
    if standing:
        finding = _judged(part, ask, standing, response)
        if ruling == "best" and given_up and finding.possible == (False,):
            before = _judged(part, ask, given_up[-1:], response)
            return before if before.possible != (False,) else finding
        return finding
    if given_up and ruling != "never":
        return _judged(part, ask, given_up[-1:], response)
    if given_up:
        said = in_words([f"“{m.text}”" for m in given_up])
        return Finding(possible=(False,), because=f"{said} was withdrawn and nothing put in its place", lines=_lines(given_up), silent=True)
    return _unsaid(part, index, response)


def _lines(mentions: Sequence[Mention]) -> tuple[int, ...]:
    return tuple(sorted({m.line for m in mentions}))


def _viewed(direction: Direction, ask: Asked) -> Direction:
    """A turn told without a view, for the side the question looks from."""
    if direction.sort != "turn" or direction.viewed is not None or ask.viewer is None:
        return direction
    return Direction(sort="turn", vector=scaled(ask.viewer, 1.0 if direction.vector[2] > 0 else -1.0), viewed=ask.viewer)


def _verdicts(part: CompiledDirection, ask: Asked, mention: Mention) -> set[bool]:
    """What a mention may be worth: both when it cannot be told."""
    if not mention.options:
        return {True, False}
    found: set[bool] = set()
    for option in mention.options:
        verdict = False if _never(ask, option) else agrees(ask.expected, _viewed(option, ask), part.within)
        found |= {True, False} if verdict is None else {verdict}
    return found


def _never(ask: Asked, said: Direction) -> bool:
    """Sorts of answer that cannot be right: a force that turns, a force towards the centre along the tangent, a velocity inward."""
    return (
        (said.sort == "turn" and ask.quantity == "force")
        or (said.sort == "turn" and ask.rule == "field of a coil")
        or (said.sort == "tangent" and ask.rule == "towards the centre")
        or (said.sort == "radial" and ask.rule == "along the velocity")
    )


def _judged(part: CompiledDirection, ask: Asked, mentions: Sequence[Mention], response: Response) -> Finding:
    kept = _distinct(_without_paths(ask, mentions), ask)
    verdicts = [_verdicts(part, ask, m) for m in kept]
    conflict = len(kept) > 1 and all(m.options for m in kept) and verdicts.count({True}) < len(kept)
    possible = _under(part.convention.two_answers, verdicts)
    text = in_words([f"“{m.text}”" for m in kept])
    doubt = _doubt(ask, kept, verdicts) if len(possible) > 1 else ""
    if conflict and _may_be_aside(kept, verdicts, response):
        possible = {True, False}
        doubt = f"{text} are both there, and it is not plain that both are said of the {ask.of}"
    elif conflict and _may_be_between(part, ask, kept):
        possible = {True, False}
        doubt = f"{text} may be meant together, as the direction between them"
    if possible == {True} and response.uncertain:
        possible, doubt = {True, False}, response.uncertain
    return Finding(
        possible=tuple(sorted(possible, reverse=True)),
        because=_because(part, ask, text, possible, conflict),
        lines=_lines(kept),
        said=kept[-1].options[0] if kept[-1].options and not conflict else None,
        doubt=doubt,
        conflict=conflict,
    )


def _without_paths(ask: Asked, mentions: Sequence[Mention]) -> Sequence[Mention]:
    """ "It circles clockwise, so up at first": beside a direction of the force, a turn tells the path."""
    straight = [m for m in mentions if not m.options or any(o.sort != "turn" for o in m.options)]
    return straight if straight and ask.quantity == "force" else mentions


def _may_be_aside(kept: Sequence[Mention], verdicts: Sequence[set[bool]], response: Response) -> bool:
    """True when one of two directions is right and the other may be said of a datum or in a reason, not as an answer."""
    explicit = sum(m.explicit for m in kept)
    offered = any(m.offered for m in kept)
    return any(True in v for v in verdicts) and not offered and (response.prose or 0 < explicit < len(kept))


def _may_be_between(part: CompiledDirection, ask: Asked, kept: Sequence[Mention]) -> bool:
    """True for "up, right" where the answer lies between the two."""
    if len(kept) != 2 or kept[1].offered or any(o.sort != "vector" for m in kept for o in m.options):
        return False
    both = pointing(added(kept[0].options[0].vector, kept[1].options[0].vector))
    return agrees(ask.expected, replace(both, coarse=True), part.within) is not False


def _distinct(mentions: Sequence[Mention], ask: Asked) -> list[Mention]:
    """Mentions that say different things, in order; of two that may mean the same the plainer one is kept."""
    kept: list[Mention] = []
    for mention in mentions:
        known = [k for k in kept if k.options and mention.options]
        narrowed = [k for k in known if len(k.options) != len(mention.options) and set(k.options) & set(mention.options)]
        if narrowed:
            kept[kept.index(narrowed[0])] = min(narrowed[0], mention, key=lambda m: len(m.options))
        elif not any(same_direction(_viewed(k.options[0], ask), _viewed(mention.options[0], ask)) for k in known):
            kept.append(mention)
    return kept


def _under(ruling: str, verdicts: list[set[bool]]) -> set[bool]:
    """The mark under the ruling for two answers: "zero" and "lowest" want every one right."""
    if len(verdicts) == 1:
        return set(verdicts[0])
    if ruling == "first":
        return set(verdicts[0])
    if ruling == "last":
        return set(verdicts[-1])
    if ruling == "best":
        can, must = any(True in v for v in verdicts), any(v == {True} for v in verdicts)
        return {True} if must else {True, False} if can else {False}
    if any(v == {False} for v in verdicts):
        return {False}
    return {True} if all(v == {True} for v in verdicts) else {True, False}


def _doubt(ask: Asked, kept: Sequence[Mention], verdicts: Sequence[set[bool]]) -> str:
    open_ones = [m for m, v in zip(kept, verdicts, strict=True) if len(v) > 1]
    text = in_words([f"“{m.text}”" for m in open_ones])
    if any(o.sort == "turn" and o.viewed is None for m in open_ones for o in m.options):
        return f"{text} does not say from which side it is looked at"
    if any(o.coarse for m in open_ones for o in m.options):
        return f"{text} gives the direction only roughly"
    if any(len(m.options) > 1 for m in open_ones):
        return f"{text} can be read in two ways"
    return f"{text} could not be read as a direction of this question for the {ask.of}"


_TWO_ANSWERS = {
    "zero": "two different directions earn nothing",
    "lowest": "the lower of two answers counts",
    "first": "the first of two answers counts",
    "last": "the last of two answers counts",
    "best": "the better of two answers counts",
}


def _because(part: CompiledDirection, ask: Asked, text: str, possible: set[bool], conflict: bool) -> str:
    right = named(ask.expected, part.frame)
    if len(possible) > 1:
        return f"{text} for the {ask.of} could not be decided; it should be {right}"
    if conflict:
        return f"{text} are both given for the {ask.of}; {_TWO_ANSWERS[part.convention.two_answers]}"
    if possible == {True}:
        return f"{text} for the {ask.of} is right"
    return f"{text} for the {ask.of} is not right; it is {right}"


def _unsaid(part: CompiledDirection, index: int, response: Response) -> Finding:
    """No direction stands for this ask: what was said instead, and whether a person should look."""
    ask = part.asks[index]
    asides = [m for m in response.asides if any(agrees(ask.expected, _viewed(o, ask), part.within) is not False for o in m.options)]
    if asides and len(part.asks) == 1 and not response.dunno:
        doubt = f"“{asides[0].text}” was read as said of something else, and may be meant as the answer"
        return Finding(possible=(True, False), because=doubt, lines=(asides[0].line,), doubt=doubt)
    if response.vague:
        return Finding(
            possible=(False,),
            because=f"“{response.vague[0]}” is true of more than one direction and does not say which way the {ask.of} is",
            silent=True,
        )
    if response.related and len(part.asks) > 1:
        return Finding(
            possible=(False,), because=f"how the directions compare is said, and no direction is stated for the {ask.of}", silent=True
        )
    if index in response.unread and not response.dunno:
        doubt = f"what is said of the {ask.of} could not be read"
        return Finding(possible=(True, False), because=doubt, doubt=doubt)
    if response.denied:
        return Finding(
            possible=(False,),
            because=f"it is said what the {ask.of} is not, and no direction is stated",
            lines=_lines(response.denied),
            silent=True,
        )
    if response.dunno or response.blank:
        return Finding(possible=(False,), because=f"no direction is given for the {ask.of}", silent=True)
    if response.said_lines or response.asides:
        return Finding(possible=(False,), because=f"no direction is stated for the {ask.of}", silent=True)
    doubt = "no direction could be read in the response"
    return Finding(possible=(True, False), because=doubt, doubt=doubt)
