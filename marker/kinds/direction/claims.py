"""What the candidate says of each asked direction, from the row of events.

Names before directions ("positive right, electron left"), directions before names ("right for the positive, left for the electron") and
bare lists ("right, left") are tried in turn, and the way that leaves each ask with one direction is taken.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from marker.kinds.direction.clauses import arranged, without_replaced
from marker.kinds.direction.combine import Setting
from marker.kinds.direction.events import Event
from marker.kinds.direction.mentions import Mention, mentions_in
from marker.kinds.direction.sharing import names_last, names_linked, score, shared_out
from marker.kinds.direction.vectors import ORIGIN, added, dot, pointing, reversed_direction
from marker.kinds.words import too_long

# what ends the words that belong to a name
_ENDS = frozenset(
    {"ask", "stop", "newline", "comma", "and", "separate", "direction", "opposite", "same", "swapped", "vague", "dunno", "because"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Response:
    """Mentions by ask, with what else matters for the mark.

    standing   ask -> mentions that stand;  given_up  ask -> mentions withdrawn
    vague      phrases that are true of many directions;  related  says how the asked directions stand to each other
    denied     what was denied ("not to the left");  asides  directions said of something else
    uncertain  why a person should look, "" when nothing calls for it
    unread     asks that are named, with words after the name that could not be read
    prose      data or reasons are told as well, so that a direction may be said of one of them
    """

    standing: dict[int, tuple[Mention, ...]]
    given_up: dict[int, tuple[Mention, ...]]
    vague: tuple[str, ...] = ()
    related: bool = False
    dunno: bool = False
    uncertain: str = ""
    denied: tuple[Mention, ...] = ()
    asides: tuple[Mention, ...] = ()
    blank: bool = False
    prose: bool = False
    unread: frozenset[int] = frozenset()
    said_lines: frozenset[int] = field(default=frozenset())


def understood(row: tuple[Event, ...], asks: int, setting: Setting, lines: Sequence[str], filler: frozenset[str] = frozenset()) -> Response:
    """The reading of a response that leaves each ask with one direction, or the nearest to it. `lines` are quoted."""
    ways = []
    row = arranged(row, asks)
    for order in (row, names_linked(row, asks), names_last(row)):
        if order is not None:
            found = without_replaced(order, mentions_in(order, asks, setting), asks)
            ways.append((order, *shared_out([m for m in found if not m.aside], asks), tuple(m for m in found if m.aside)))
    row, mentions, leftover, asides = max(ways, key=lambda way: score(way[1], way[2], asks))
    second = [i for i, e in enumerate(row) if e.kind == "second_thoughts"]
    strong = [i for i, e in enumerate(row) if e.kind == "withdrawals"]
    second += [m.order for m in mentions if m.relation and len(m.target) == asks > 1]
    resolved = [_quoted(m, lines) for m in _related(_composed(mentions, asks), asks, second)]
    standing, given_up = _withdrawn(resolved, asks, second, strong)
    return Response(
        standing=standing,
        given_up=given_up,
        vague=tuple(e.text for e in row if e.kind == "vague"),
        related=any(m.relation for m in mentions) or any(e.kind in ("opposite", "same", "each_other", "swapped") for e in row),
        dunno=any(e.kind == "dunno" for e in row),
        uncertain=_uncertain(row, leftover, too_long(lines)),
        unread=_unread_asks(row, filler),
        denied=tuple(m for m in resolved if m.denied),
        asides=tuple(_quoted(m, lines) for m in asides),
        prose=bool(asides) or any(e.kind in ("quantity", "contrast", "because", "moving") and e.name not in setting.asked for e in row),
        said_lines=frozenset(m.line for m in resolved),
    )


def _unread_asks(row: tuple[Event, ...], filler: frozenset[str]) -> frozenset[int]:
    """Asks whose name is followed by words of substance and no direction: "the gamma rays wiggle"."""
    found: set[int] = set()
    for index, event in enumerate(row):
        if event.kind != "ask" or len(event.asks) != 1:
            continue
        for after in row[index + 1 : index + 8]:
            if after.kind in _ENDS:
                break
            if after.kind == "word" and len(after.text) > 2 and after.text.lower() not in filler:
                found.add(event.asks[0])
                break
    return frozenset(found)


def _quoted(mention: Mention, lines: Sequence[str]) -> Mention:
    """The mention with its text as typed."""
    typed = lines[mention.line - 1][mention.start : mention.end]
    return replace(mention, text=typed) if typed else mention


def _uncertain(row: tuple[Event, ...], leftover: tuple[Mention, ...], cut: bool) -> str:
    if cut:
        return "the response is longer than is read"
    if leftover:
        return f"“{leftover[0].text}” could not be matched to one of the directions asked"
    for event in row:
        if event.kind == "angle" and not (event.name == "45.0" and any(o.coarse for e in row for o in e.options)):
            return f"the angle in “{event.text}” could not be read together with the direction"
    return ""


def _composed(mentions: list[Mention], asks: int) -> list[Mention]:
    """ "up and to the right": two neighbours at right angles, said of one thing without a comma, make one direction between them."""
    out: list[Mention] = []
    for mention in mentions:
        last = out[-1] if out else None
        if last is not None and _makes_one(last, mention):
            both = pointing(added(last.options[0].vector, mention.options[0].vector))
            out[-1] = replace(last, options=(replace(both, coarse=True),), end=mention.end, text=f"{last.text} {mention.text}")
        else:
            out.append(mention)
    return out


def _makes_one(a: Mention, b: Mention) -> bool:
    near = a.line == b.line and a.asks == b.asks and b.order - a.order <= 3 and b.start - a.end <= 12
    plain = len(a.options) == len(b.options) == 1 and not (
        a.relation or b.relation or a.denied or b.denied or b.offered or a.weak or b.weak
    )
    if not (near and plain) or b.after_comma:
        return False
    x, y = a.options[0], b.options[0]
    return x.sort == y.sort == "vector" and x.vector != ORIGIN and y.vector != ORIGIN and abs(dot(x.vector, y.vector)) < 1e-6


def _related(mentions: list[Mention], asks: int, second: Sequence[int]) -> list[Mention]:
    """Relations turned into directions where the other end is known."""
    out = [m for m in mentions if not m.relation]
    for mention in (m for m in mentions if m.relation):
        out.extend(_resolved(mention, out, asks, second))
    return sorted(out, key=lambda m: m.order)


def _resolved(mention: Mention, known: list[Mention], asks: int, second: Sequence[int]) -> list[Mention]:
    before = [m for m in known if m.order < mention.order and not m.denied and m.options]
    subject = mention.asks[0] if len(mention.asks) == 1 else None
    changed = bool(before) and any(before[-1].order < s < mention.order for s in second)
    if mention.target and len(mention.target) == asks and asks > 1 and subject is None:  # "vice versa", "swap them"
        return [_turned(mention, m, m.asks) for m in _latest(before, asks)]
    if mention.target:
        return _from_target(mention, subject, known)
    if before and (changed and mention.relation < 0) and (subject is None or subject in before[-1].asks):
        return [_turned(mention, before[-1], before[-1].asks)]
    if subject is not None and asks > 1:
        others = [m for m in before if subject not in m.asks] or [m for m in known if subject not in m.asks and m.options and not m.denied]
        own = [m for m in known if m.asks == (subject,) and not m.denied and m.options]
        return [] if own or not others else [_turned(mention, others[-1] if others[0] in before else others[0], (subject,))]
    if len(mention.asks) > 1 or subject is None:
        return _between_all(mention, known, asks)
    return []


def _from_target(mention: Mention, subject: int | None, known: list[Mention]) -> list[Mention]:
    """ "electron opposite to the ion": from the ion's direction, or the ion's from the electron's."""
    target = [m for m in known if set(m.asks) & set(mention.target) and m.options and not m.denied]
    own = [m for m in known if subject is not None and subject in m.asks and m.options and not m.denied]
    if target and not own:
        return [
            _turned(mention, target[-1], (subject,) if subject is not None else tuple(a for a in range(2) if a not in mention.target)[:1])
        ]
    if own and not target:
        return [_turned(mention, own[-1], mention.target)]
    return []


def _between_all(mention: Mention, known: list[Mention], asks: int) -> list[Mention]:
    """ "they are opposite": with one of two known, the other follows."""
    spoken = [m for m in known if len(m.asks) == 1 and m.options and not m.denied]
    silent = [a for a in range(asks) if not any(a in m.asks for m in spoken)]
    if asks == 2 and spoken and len(silent) == 1:
        return [_turned(mention, spoken[-1], (silent[0],))]
    return []


def _latest(before: list[Mention], asks: int) -> list[Mention]:
    last: dict[tuple[int, ...], Mention] = {m.asks: m for m in before}
    return list(last.values())


def _turned(mention: Mention, base: Mention, asks: tuple[int, ...]) -> Mention:
    options = base.options if mention.relation > 0 else tuple(reversed_direction(o) for o in base.options)
    return replace(mention, asks=asks, options=options, relation=0.0, target=(), loose=False)


def _withdrawn(
    mentions: list[Mention], asks: int, second: Sequence[int], strong: Sequence[int]
) -> tuple[dict[int, tuple[Mention, ...]], dict[int, tuple[Mention, ...]]]:
    """Standing and given-up mentions by ask: a change of mind gives up what came before it where something came after."""
    standing: dict[int, tuple[Mention, ...]] = {}
    given_up: dict[int, tuple[Mention, ...]] = {}
    for ask in range(asks):
        own = [m for m in mentions if ask in m.asks and not m.denied]
        if any(not m.weak for m in own):
            own = [m for m in own if not m.weak]
        if any(not m.case for m in own):
            own = [m for m in own if not m.case]
        marks = sorted([*second, *strong])
        cut = max((s for s in marks if any(m.order >= s for m in own)), default=-1)
        # what was scrapped outright stays given up even when nothing replaced it
        outright = max((s for s in strong), default=-1)
        stands = [m for m in own if m.order >= max(cut, outright) and not m.struck]
        standing[ask] = tuple(stands)
        given_up[ask] = tuple(m for m in own if m not in stands)
    return standing, given_up
