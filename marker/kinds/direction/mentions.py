"""One pass through the row of events: each direction, and the asks it is said of.

A name before a direction owns it until the next name; directions of other quantities, of reasons and of other charges are asides.
"""

from dataclasses import dataclass, replace

from marker.kinds.direction.combine import Setting
from marker.kinds.direction.events import Event
from marker.kinds.direction.vectors import Direction, angle

_BREAKS = frozenset({"comma", "stop", "newline", "and", "separate", "close", "slash"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Mention:
    """A direction, or how it stands to another.

    asks      what it is said of; () for a bare direction
    options   directions it can mean; () when it cannot be told, or when `relation` says it
    relation  0 for a direction; -1 "opposite", +1 "the same";  target  the asks it is compared with, () for the one before
    order     place in the response;  denied  "not to the left";  loose  after a comma, with no name of its own
    explicit  the thing asked is named;  dealt  given to an ask by its turn;  weak  where something lies rather than which way
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
    dealt: bool = False
    explicit: bool = False
    after_comma: bool = False


@dataclass(slots=True)
class State:
    """Where a pass through the row has got to. `aside` names why directions here are not about what is asked."""

    asks: tuple[int, ...] = ()
    used: bool = False
    fresh_break: bool = False
    aside: str = ""
    aside_used: bool = False
    case: bool = False
    moving: str = ""
    bracket: bool = False
    struck: bool = False
    offered: bool = False
    opened_at_start: bool = False
    explicit: bool = False
    compared: bool = False
    comma: bool = False
    last: tuple[int, ...] = ()


def mentions_in(row: tuple[Event, ...], asks: int, setting: Setting) -> list[Mention]:
    state = State()
    found: list[Mention] = []
    index = 0
    while index < len(row):
        event = row[index]
        if event.kind in ("direction", "opposite", "same", "swapped", "each_other", "mutual"):
            index += _say(row, index, state, found, asks, setting)
        else:
            _steer(row, index, state, asks, setting)
            index += 1
    return found


def _steer(row: tuple[Event, ...], index: int, state: State, asks: int, setting: Setting) -> None:
    """What an event that is no direction does to the state."""
    event = row[index]
    match event.kind:
        case "ask" if state.bracket and state.aside:
            pass  # "the current (positive charge) is to the right"
        case "ask" if state.aside == "reason" and _only_described(row, index):
            pass  # "up as positive, ..."
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
            state.compared = _compared(row, index, state.compared)
            if not state.compared:
                _quantity(event, state, setting)
        case "moving":
            state.moving = event.name
        case "because" | "when":
            if event.kind == "because" or asks == 1:
                state.aside, state.aside_used, state.opened_at_start = "reason", False, _at_start(row, index)
        case "so":
            state.aside, state.moving, state.fresh_break = "", "", True
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
            state.aside, state.case, state.moving, state.fresh_break, state.offered = "", False, "", True, False
            state.last = state.asks or state.last
            state.asks = state.asks if not state.used else ()
            state.explicit = False
        case "comma" | "and" | "separate" | "slash" | "dash" | "second_thoughts" | "withdrawals":
            state.fresh_break = True
            state.comma = state.comma or event.kind != "and"
            state.moving = ""
            if event.kind in ("second_thoughts", "withdrawals") and not state.asks:
                state.asks, state.used = state.last, False
            if _aside_ends(state, event):
                state.aside = ""


def _aside_ends(state: State, event: Event) -> bool:
    """An aside is over at a break once its direction is told; a reason that opens a sentence, at its comma."""
    if state.aside == "reason":
        return state.opened_at_start and event.kind == "comma"
    return state.aside_used


def _only_described(row: tuple[Event, ...], index: int) -> bool:
    """True for a name right after "as" or "because" with nothing said of it before the next break."""
    following = next((e.kind for e in row[index + 1 :] if e.kind != "word"), "stop")
    return row[index - 1].kind == "because" and following in _BREAKS


def _at_start(row: tuple[Event, ...], index: int) -> bool:
    return index == 0 or row[index - 1].kind in ("stop", "newline")


def _name(row: tuple[Event, ...], index: int, state: State, asks: tuple[int, ...]) -> None:
    """A name of something asked: alone, or one more of a group ("the ion and the electron")."""
    back = index - 1
    while back >= 0 and row[back].kind in ("and", "comma", "word", "slash", "quantity", "link"):
        back -= 1
    grouped = back >= 0 and row[back].kind == "ask" and not state.used and any(e.kind in ("and", "comma", "slash") for e in row[back:index])
    state.asks = (*state.asks, *(a for a in asks if a not in state.asks)) if grouped else asks
    state.used, state.aside, state.fresh_break, state.moving = False, "", False, ""


def _compared(row: tuple[Event, ...], index: int, before: bool) -> bool:
    """True in "at right angles to the velocity and the field": the quantity is compared with, nothing is said of it."""
    kinds = [e.kind for e in row[max(0, index - 2) : index]]
    return bool(kinds) and (kinds[-1] in ("to", "both") or (before and kinds == ["quantity", "and"]))


def _quantity(event: Event, state: State, setting: Setting) -> None:
    if event.name in setting.asked or (event.name == "velocity" and "velocity" not in setting.given):
        if state.aside == "contrast":  # "the force on a proton", "positive charges would feel a force"
            return
        state.aside, state.explicit = "", True
        if state.used:
            state.asks, state.used = (), False
    else:
        state.aside, state.aside_used = "other_quantity", False


def _say(row: tuple[Event, ...], index: int, state: State, found: list[Mention], asks: int, setting: Setting) -> int:
    """Notes the direction or relation at `index`; how many events it takes."""
    event = row[index]
    mention = _mention(event, index, state, setting)
    if event.kind == "direction" and _said_of_other(row, index, setting):
        found.append(replace(mention, aside=True))
        state.fresh_break = False
        return 1
    if mention.aside:
        state.aside_used, state.moving = True, ""
        if event.kind == "direction":
            found.append(mention)
        return 1
    taken = 1
    if event.kind == "mutual":
        found.extend(replace(mention, asks=(a,), options=(event.options[a],), loose=False) for a in range(asks))
        state.asks, state.used = (), False
        return 1
    if event.kind != "direction":
        mention, taken = _relation(row, index, mention, asks)
    found.append(mention)
    if not mention.denied:
        state.used = True
    state.fresh_break, state.comma, state.moving = False, False, ""
    return taken


def _said_of_other(row: tuple[Event, ...], index: int, setting: Setting) -> bool:
    """ "right for positive charges" where they are not asked about, and "the out of page field"."""
    following = [e for e in row[index + 1 : index + 4] if e.kind != "word"]
    if len(following) > 1 and following[0].kind == "link" and following[1].kind == "contrast":
        return True
    datum = setting.given.get(following[0].name) if following and row[index + 1].kind == "quantity" else None
    return datum is not None and any(o.sort == "vector" and angle(o.vector, datum) < 5.0 for o in row[index].options)


def _mention(event: Event, index: int, state: State, setting: Setting) -> Mention:
    datum = event.kind == "direction" and _repeats_datum(event, state, setting)
    return Mention(
        asks=state.asks,
        options=event.options,
        order=index,
        line=event.line,
        start=event.start,
        end=event.end,
        text=event.text,
        denied=event.sign == 0.0,
        loose=state.used and state.fresh_break,
        case=state.case,
        weak=event.weak,
        bracketed=state.bracket,
        offered=state.offered,
        struck=state.struck,
        aside=bool(state.aside) or datum,
        after_comma=state.comma,
        explicit=state.explicit or bool(state.asks),
    )


def _repeats_datum(event: Event, state: State, setting: Setting) -> bool:
    """ "moving up the page" says again what the question gives."""
    name = {"moving": "velocity", "flowing": "current"}.get(state.moving, "")
    datum = setting.given.get(name) if name not in setting.asked else None
    return datum is not None and any(o.sort == "vector" and angle(o.vector, datum) < 5.0 for o in event.options)


def _relation(row: tuple[Event, ...], index: int, mention: Mention, asks: int) -> tuple[Mention, int]:
    """ "opposite to the force on the ion", "the other way": a mention with a relation, and the events it takes."""
    event = row[index]
    sign = 1.0 if event.kind == "same" else -1.0
    joined = False
    for at in range(index + 1, min(index + 8, len(row))):
        kind, text = row[at].kind, row[at].text.lower()
        if kind in ("to", "from") or text in ("of", "than") or (kind == "because" and text == "as"):
            joined = True
        elif kind == "ask" and joined and mention.asks != row[at].asks:
            return replace(mention, options=(), relation=sign, target=row[at].asks), at - index + 1
        elif kind == "contrast" and joined:
            return replace(mention, options=(), relation=0.0, weak=True), at - index + 1
        elif kind == "link" and not joined and at + 1 < len(row) and row[at + 1].kind == "ask":
            return replace(mention, options=(), relation=sign, asks=row[at + 1].asks, loose=False), at - index + 2
        elif kind not in ("word", "quantity", "link"):
            break
    if event.kind == "swapped":
        names = [i for i in range(index) if row[i].kind == "ask"]
        changed = any(e.kind == "second_thoughts" for e in row[names[-1] + 1 : index]) if names else False
        for_all = not mention.asks or mention.loose or changed
        return replace(
            mention, options=(), relation=sign, asks=() if for_all else mention.asks, target=tuple(range(asks)) if for_all else ()
        ), 1
    return replace(mention, options=(), relation=sign), 1
