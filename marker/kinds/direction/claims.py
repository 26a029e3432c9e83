"""What the candidate says of each asked direction, from the row of events.

A mention is a direction with the asks it is said of. Names before directions ("positive right, electron left"), directions before names
("right for the positive, left for the electron") and bare lists ("right, left") are tried in turn, and the way that leaves each ask
with one direction is taken.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from marker.kinds.direction.combine import Setting
from marker.kinds.direction.events import Event
from marker.kinds.direction.vectors import ORIGIN, Direction, added, angle, dot, pointing, reversed_direction

_BREAKS = {"comma", "stop", "newline", "slash", "dash", "separate", "and", "close", "so", "because", "second_thoughts", "withdrawals", "or"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Mention:
    """A direction, or how it stands to another.

    asks      what it is said of; () for a bare direction
    options   directions it can mean; () when it cannot be told, or when `relation` says it
    relation  0 for a direction; -1 "opposite", +1 "the same";  target  the asks it is compared with, () for the one before
    order     place in the response;  denied  "not to the left";  loose  after a comma, with no name of its own
    case      True in a clause that speaks of another case ("it would be right if ...")
    """

    asks: tuple[int, ...]
    options: tuple[Direction, ...]
    order: int
    line: int
    start: int
    end: int
    text: str
    relation: float = 0.0
    target: tuple[int, ...] = ()
    denied: bool = False
    loose: bool = False
    case: bool = False
    weak: bool = False
    bracketed: bool = False
    offered: bool = False
    struck: bool = False
    aside: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Response:
    """Mentions by ask, with what else matters for the mark.

    standing   ask -> mentions that stand;  given_up  ask -> mentions withdrawn
    vague      phrases that are true of many directions;  related  says how the asked directions stand to each other
    denied     what was denied ("not to the left");  asides  directions said of something else
    uncertain  why a person should look, "" when nothing calls for it
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
    said_lines: frozenset[int] = field(default=frozenset())


def understood(row: tuple[Event, ...], asks: int, setting: Setting, cut: bool = False) -> Response:
    """The reading of a response that leaves each ask with one direction, or the nearest to it. `cut` when more was typed than is read."""
    ways = []
    for order in (row, _linked(row, asks), _names_last(row)):
        if order is not None:
            found = _mentions(order, asks, setting)
            ways.append((order, *_shared_out([m for m in found if not m.aside], asks), tuple(m for m in found if m.aside)))
    row, mentions, leftover, asides = max(ways, key=lambda way: _score(way[1], way[2], asks))
    second = [i for i, e in enumerate(row) if e.kind == "second_thoughts"]
    strong = [i for i, e in enumerate(row) if e.kind == "withdrawals"]
    resolved = _related(_composed(mentions, asks), asks, second)
    standing, given_up = _withdrawn(resolved, asks, second, strong)
    return Response(
        standing=standing,
        given_up=given_up,
        vague=tuple(e.text for e in row if e.kind == "vague"),
        related=any(m.relation for m in mentions) or any(e.kind in ("opposite", "same", "each_other", "swapped") for e in row),
        dunno=any(e.kind == "dunno" for e in row),
        uncertain=_uncertain(row, leftover, cut),
        denied=tuple(m for m in resolved if m.denied),
        asides=asides,
        said_lines=frozenset(m.line for m in resolved),
    )


def _uncertain(row: tuple[Event, ...], leftover: tuple[Mention, ...], cut: bool) -> str:
    if cut:
        return "the response is longer than is read"
    if leftover:
        return f"“{leftover[0].text}” could not be matched to one of the directions asked"
    for event in row:
        if event.kind == "angle":
            return f"the angle in “{event.text}” could not be read together with the direction"
    return ""


# ---- one way through the row ------------------------------------------------------------------------------------------


@dataclass(slots=True)
class _State:
    """Where a pass through the row has got to. `aside` names why directions here are not about what is asked."""

    asks: tuple[int, ...] = ()
    used: bool = False
    fresh_break: bool = False
    aside: str = ""
    aside_used: bool = False
    case: bool = False
    moving: bool = False
    bracket: bool = False
    struck: bool = False
    offered: bool = False
    opened_at_start: bool = False


def _mentions(row: tuple[Event, ...], asks: int, setting: Setting) -> list[Mention]:
    state = _State()
    found: list[Mention] = []
    index = 0
    while index < len(row):
        event = row[index]
        if event.kind in ("direction", "opposite", "same", "swapped", "each_other"):
            index += _say(row, index, state, found, asks, setting)
        else:
            _steer(row, index, state, asks, setting)
            index += 1
    return found


def _steer(row: tuple[Event, ...], index: int, state: _State, asks: int, setting: Setting) -> None:
    """What an event that is no direction does to the state."""
    event = row[index]
    match event.kind:
        case "ask":
            _name(row, index, state, event.asks)
        case "both":
            state.asks, state.used, state.aside = tuple(range(asks)), False, ""
        case "other":
            known = state.asks if len(state.asks) == 1 else ()
            state.asks = tuple(i for i in range(asks) if i not in known) if asks == 2 and known else ()
            state.used, state.aside = False, "" if asks > 1 else "contrast"
        case "contrast":
            state.aside, state.aside_used = "contrast", False
        case "quantity":
            _quantity(event, state, setting)
        case "moving":
            state.moving = True
        case "because" | "when":
            if event.kind == "because" or asks == 1:
                state.aside, state.aside_used, state.opened_at_start = "reason", False, _at_start(row, index)
        case "so":
            state.aside, state.moving, state.fresh_break = "", False, True
        case "otherwise":
            state.case = True
        case "open" | "close":
            state.bracket = event.kind == "open"
            state.fresh_break = True
        case "strike":
            state.struck = not state.struck
        case "or":
            state.offered = True
        case "stop" | "newline":
            state.aside, state.case, state.moving, state.fresh_break, state.offered = "", False, False, True, False
            state.asks = state.asks if not state.used else ()
        case "comma" | "and" | "separate" | "slash" | "dash" | "second_thoughts" | "withdrawals":
            state.fresh_break = True
            state.moving = False
            if (state.aside in ("other_quantity", "contrast") and state.aside_used) or (state.aside == "reason" and state.opened_at_start and event.kind == "comma"):
                state.aside = ""


def _at_start(row: tuple[Event, ...], index: int) -> bool:
    return index == 0 or row[index - 1].kind in ("stop", "newline")


def _name(row: tuple[Event, ...], index: int, state: _State, asks: tuple[int, ...]) -> None:
    """A name of something asked: alone, or one more of a group ("the ion and the electron")."""
    back = index - 1
    while back >= 0 and row[back].kind in ("and", "comma", "word", "slash", "quantity", "link"):
        back -= 1
    grouped = back >= 0 and row[back].kind == "ask" and not state.used and any(e.kind in ("and", "comma", "slash") for e in row[back:index])
    state.asks = (*state.asks, *(a for a in asks if a not in state.asks)) if grouped else asks
    state.used, state.aside, state.fresh_break, state.moving = False, "", False, False


def _quantity(event: Event, state: _State, setting: Setting) -> None:
    if event.name in setting.asked or (event.name == "velocity" and "velocity" not in setting.given):
        state.aside = ""
        if state.used:
            state.asks, state.used = (), False
    else:
        state.aside, state.aside_used = "other_quantity", False


def _say(row: tuple[Event, ...], index: int, state: _State, found: list[Mention], asks: int, setting: Setting) -> int:
    """Notes the direction or relation at `index`; how many events it takes."""
    event = row[index]
    if event.kind == "direction" and _repeats_datum(event, state, setting):
        state.moving = False
        return 1
    mention = Mention(
        asks=state.asks, options=event.options, order=index, line=event.line, start=event.start, end=event.end, text=event.text, denied=event.sign == 0.0,
        loose=state.used and state.fresh_break, case=state.case, weak=event.weak, bracketed=state.bracket, offered=state.offered, struck=state.struck, aside=bool(state.aside),
    )  # fmt: skip
    if state.aside:
        state.aside_used, state.moving = True, False
        if event.kind == "direction":
            found.append(mention)
        return 1
    taken = 1
    if event.kind != "direction":
        mention, taken = _relation(row, index, mention, asks)
    found.append(mention)
    if not mention.denied:
        state.used = True
    state.fresh_break, state.moving = False, False
    return taken


def _repeats_datum(event: Event, state: _State, setting: Setting) -> bool:
    """ "moving up the page" says again what the question gives."""
    data = [setting.given[name] for name in ("velocity", "current") if name in setting.given and name not in setting.asked]
    return state.moving and any(o.sort == "vector" and angle(o.vector, d) < 5.0 for o in event.options for d in data)


def _relation(row: tuple[Event, ...], index: int, mention: Mention, asks: int) -> tuple[Mention, int]:
    """ "opposite to the force on the ion", "the other way": a mention with a relation, and the events it takes."""
    event = row[index]
    sign = 1.0 if event.kind == "same" else -1.0
    joined = False
    for at in range(index + 1, min(index + 8, len(row))):
        kind, text = row[at].kind, row[at].text.lower()
        if kind in ("to", "from", "and") or text in ("of", "than") or (kind == "because" and text == "as"):
            joined = True
        elif kind == "ask" and joined and mention.asks != row[at].asks:
            return replace(mention, options=(), relation=sign, target=row[at].asks), at - index + 1
        elif kind == "contrast" and joined:
            return replace(mention, options=(), relation=0.0), at - index + 1
        elif kind == "link" and not joined and at + 1 < len(row) and row[at + 1].kind == "ask":
            return replace(mention, options=(), relation=sign, asks=row[at + 1].asks, loose=False), at - index + 2
        elif kind not in ("word", "quantity", "link"):
            break
    if event.kind == "swapped":
        return replace(mention, options=(), relation=sign, target=tuple(range(asks)) if not mention.asks or mention.loose else ()), 1
    return replace(mention, options=(), relation=sign), 1


# ---- other orders of the row ---------------------------------------------------------------------------------------------


def _linked(row: tuple[Event, ...], asks: int) -> tuple[Event, ...] | None:
    """ "right for the positive ion": the name put before its direction, wherever a direction is followed by "for" or "on" and a name."""
    out = list(row)
    changed = False
    index = 0
    while index < len(out):
        if out[index].kind in ("direction", "opposite", "same") and asks > 1:
            at = index + 1
            while at < len(out) and out[at].kind in ("word", "quantity", "link", "when", "open", "to"):
                at += 1
            joined = any(e.kind in ("link", "when", "open") for e in out[index + 1 : at])
            if at < len(out) and out[at].kind == "ask" and joined and not _own_direction_follows(out, at):
                name = out.pop(at)
                out.insert(index, name)
                index += 1
                changed = True
        index += 1
    return tuple(out) if changed else None


def _own_direction_follows(row: list[Event], at: int) -> bool:
    """True when the name at `at` has a direction of its own right after it, before any break."""
    for event in row[at + 1 :]:
        if event.kind in ("direction", "opposite", "same", "colon", "equals"):
            return True
        if event.kind in _BREAKS or event.kind == "ask":
            return False
    return False


def _names_last(row: tuple[Event, ...]) -> tuple[Event, ...] | None:
    """ "right positive, left electron": every name moved before the direction it follows."""
    kinds = [e.kind for e in row if e.kind in ("direction", "ask")]
    if not kinds or kinds[0] != "direction" or kinds.count("ask") == 0 or kinds[-1] != "ask":
        return None
    out: list[Event] = []
    start = 0
    for index, event in enumerate(row):
        if event.kind == "ask":
            firsts = [i for i in range(start, index) if row[i].kind == "direction"]
            cut = firsts[0] if firsts else index
            out.extend(row[start:cut])
            out.append(event)
            out.extend(e for e in row[cut:index])
            start = index + 1
    out.extend(row[start:])
    return tuple(out)


# ---- who gets the bare ones ------------------------------------------------------------------------------------------------


def _shared_out(mentions: list[Mention], asks: int) -> tuple[list[Mention], tuple[Mention, ...]]:
    """Mentions with every bare one given to an ask, and those that could not be."""
    mentions = _grouped(_brackets_joined(mentions))
    if asks == 1:
        return [m if m.asks else replace(m, asks=(0,)) for m in mentions], ()
    return _in_turn(mentions, asks)


def _brackets_joined(mentions: list[Mention]) -> list[Mention]:
    """ "right (+x)": what stands in brackets is said of the same thing as what it follows."""
    out: list[Mention] = []
    for mention in mentions:
        if mention.bracketed and out and mention.loose and not mention.relation:
            mention = replace(mention, asks=out[-1].asks, loose=False, order=mention.order) if out[-1].asks else mention
            if not mention.asks and _alike(mention, out[-1]):
                continue
        out.append(mention)
    return out


def _grouped(mentions: list[Mention]) -> list[Mention]:
    """ "the ion and the electron go right and left": as many directions as names are dealt out in order."""
    out: list[Mention] = []
    index = 0
    while index < len(mentions):
        names = mentions[index].asks
        run = 1
        while len(names) > 1 and index + run < len(mentions) and mentions[index + run].asks == names:
            run += 1
        if len(names) > 1 and run == len(names) and not any(m.relation or m.denied for m in mentions[index : index + run]):
            out.extend(replace(m, asks=(name,), loose=False) for m, name in zip(mentions[index : index + run], names, strict=True))
        else:
            out.extend(mentions[index : index + run])
        index += run
    return out


def _in_turn(mentions: list[Mention], asks: int) -> tuple[list[Mention], tuple[Mention, ...]]:
    """Bare directions go to the asks that have none, in the order of the question."""
    firm = [m for m in mentions if m.asks and not m.loose]
    spoken = {a for m in firm for a in m.asks if not m.denied}
    open_asks = [a for a in range(asks) if a not in spoken]
    # a loose one that only says the same again stays where it is
    bare = [m for m in mentions if not m.denied and (not m.asks or (m.loose and not any(_alike(m, f) for f in firm if f.asks == m.asks)))]
    plain = [m for m in bare if not m.relation]
    related = [m for m in bare if m.relation and not m.asks and not m.target]
    if plain and len(plain) + len(related) != len(open_asks):
        plain = _once_each(plain)
    dealt = sorted([*plain, *related], key=lambda m: m.order)
    if not dealt:
        return mentions, ()
    if len(dealt) > len(open_asks):
        unnamed = tuple(m for m in dealt if not m.asks and not m.relation)
        return [m for m in mentions if m.asks or m.relation], unnamed
    turns = {m.order: a for m, a in zip(dealt, open_asks, strict=False)}
    dropped = {m.order for m in bare} - set(turns) - {m.order for m in mentions if m.asks or m.relation}
    out = [replace(m, asks=(turns[m.order],), loose=False) if m.order in turns else m for m in mentions if m.order not in dropped]
    return out, ()


def _once_each(plain: list[Mention]) -> list[Mention]:
    """Neighbours that say the same counted once."""
    out: list[Mention] = []
    for mention in plain:
        if not out or not _alike(mention, out[-1]):
            out.append(mention)
    return out


def _alike(a: Mention, b: Mention) -> bool:
    return bool(a.options and b.options) and any(same_direction(x, y) for x in a.options for y in b.options)


def same_direction(a: Direction, b: Direction) -> bool:
    """Equal but for some degrees."""
    return a.sort == b.sort and (a.sort == "zero" or (a.vector != ORIGIN and angle(a.vector, b.vector) < 10.0))


def _score(mentions: list[Mention], leftover: tuple[Mention, ...], asks: int) -> tuple[int, int]:
    """Asks that get one direction and no second, less those that get two; then fewer left over."""
    clear = 0
    for ask in range(asks):
        own = [m for m in mentions if ask in m.asks and not m.denied]
        firm = [m for m in own if not m.relation]
        conflict = any(not _alike(m, firm[0]) for m in firm[1:])
        clear += -1 if conflict else int(bool(own))
    return clear, -len(leftover)


# ---- compositions, relations, withdrawals ----------------------------------------------------------------------------------


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
    plain = len(a.options) == len(b.options) == 1 and not (a.relation or b.relation or a.denied or b.denied or b.offered)
    if not (near and plain):
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
        return [_turned(mention, target[-1], (subject,) if subject is not None else tuple(a for a in range(2) if a not in mention.target)[:1])]
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


def _withdrawn(mentions: list[Mention], asks: int, second: Sequence[int], strong: Sequence[int]) -> tuple[dict[int, tuple[Mention, ...]], dict[int, tuple[Mention, ...]]]:
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
        cut = max((s for s in marks if any(m.order > s for m in own)), default=-1)
        # what was scrapped outright stays given up even when nothing replaced it
        outright = max((s for s in strong), default=-1)
        stands = [m for m in own if m.order > max(cut, outright) and not m.struck]
        standing[ask] = tuple(stands)
        given_up[ask] = tuple(m for m in own if m not in stands)
    return standing, given_up
