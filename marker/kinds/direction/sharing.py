"""Names after directions, and bare directions dealt out in the order of the question."""

from dataclasses import replace

from marker.kinds.direction.events import Event
from marker.kinds.direction.mentions import Mention
from marker.kinds.direction.vectors import ORIGIN, Direction, angle

_BREAKS = frozenset(
    {"comma", "stop", "newline", "slash", "dash", "separate", "and", "close", "so", "because", "second_thoughts", "withdrawals", "or"}
)


def names_linked(row: tuple[Event, ...], asks: int) -> tuple[Event, ...] | None:
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


def names_last(row: tuple[Event, ...]) -> tuple[Event, ...] | None:
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


def shared_out(mentions: list[Mention], asks: int) -> tuple[list[Mention], tuple[Mention, ...]]:
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
            if not mention.asks and alike(mention, out[-1]):
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
    bare = [m for m in mentions if not m.denied and (not m.asks or (m.loose and not any(alike(m, f) for f in firm if f.asks == m.asks)))]
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
    out = [
        replace(m, asks=(turns[m.order],), loose=False, dealt=True) if m.order in turns else m for m in mentions if m.order not in dropped
    ]
    return out, ()


def _once_each(plain: list[Mention]) -> list[Mention]:
    """Neighbours that say the same counted once."""
    out: list[Mention] = []
    for mention in plain:
        if not out or not alike(mention, out[-1]):
            out.append(mention)
    return out


def alike(a: Mention, b: Mention) -> bool:
    return bool(a.options and b.options) and any(same_direction(x, y) for x in a.options for y in b.options)


def same_direction(a: Direction, b: Direction) -> bool:
    """Equal but for some degrees."""
    return a.sort == b.sort and (a.sort == "zero" or (a.vector != ORIGIN and angle(a.vector, b.vector) < 10.0))


def score(mentions: list[Mention], leftover: tuple[Mention, ...], asks: int) -> tuple[int, int, int]:
    """Asks that get one direction and no second, less those that get two; then those named, not dealt in turn; then fewer left over."""
    clear = 0
    named = len({a for m in mentions if not m.dealt for a in m.asks})
    for ask in range(asks):
        own = [m for m in mentions if ask in m.asks and not m.denied]
        firm = [m for m in own if not m.relation]
        conflict = any(not alike(m, firm[0]) for m in firm[1:])
        clear += -1 if conflict else int(bool(own))
    return clear, named, -len(leftover)
