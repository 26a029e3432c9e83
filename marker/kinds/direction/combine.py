"""Events that belong together made one: "away from the magnet", "from left to right", "not to the left", "30° north of east".

Each pass takes the row of events and gives a shorter one. What is left is read by claims.py.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from marker.kinds.direction.events import Event
from marker.kinds.direction.vectors import (
    INWARD,
    ORIGIN,
    TANGENT,
    ZERO,
    Direction,
    Vector,
    bearing,
    dot,
    leaning,
    pointing,
    reversed_direction,
    scaled,
    turning,
)

Row = list[Event]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What the question gives, by the words for it.

    given   quantity ("field", "velocity", "current", "force") -> its unit vector
    asked   names of quantities whose direction is asked;  centre  from the body to the centre, None when not given
    """

    given: Mapping[str, Vector]
    asked: frozenset[str]
    centre: Vector | None = None


_BREAK = {
    "comma",
    "stop",
    "newline",
    "colon",
    "slash",
    "dash",
    "separate",
    "because",
    "so",
    "second_thoughts",
    "withdrawals",
    "or",
    "open",
    "close",
}


def combined(row: tuple[Event, ...], setting: Setting) -> tuple[Event, ...]:
    """The row after every pass."""
    here = [e for e in row if e.kind != "passed"]
    for one in PASSES:
        here = one(here, setting)
    return tuple(here)


def _relative(row: Row, setting: Setting) -> Row:
    """ "tangentially", "towards the centre", "forwards": vectors where the question gives what they refer to."""
    velocity, centre = setting.given.get("velocity"), setting.centre
    along = TANGENT if velocity is None else pointing(velocity)
    inward = INWARD if centre is None else pointing(centre)
    meanings = {
        "along_velocity": along,
        "against_velocity": reversed_direction(along),
        "to_centre": inward,
        "from_centre": reversed_direction(inward),
    }
    return [replace(e, kind="direction", options=(meanings[e.name],)) if e.kind == "relative" else e for e in row]


def _views(row: Row, setting: Setting) -> Row:
    """ "clockwise seen from above": the turn is re-told for that viewer. "looking down" is a viewer above."""
    out: Row = []
    index = 0
    while index < len(row):
        event = row[index]
        viewed = _view_at(row, index)
        if viewed is None:
            out.append(event)
            index += 1
            continue
        axis, taken = viewed
        turn = _turn_near(out, row[index + taken :])
        if turn is None:
            out.append(event)
            index += 1
            continue
        if isinstance(turn, int) and turn >= 0:
            out[turn] = _re_viewed(out[turn], axis)
        else:
            after = index + taken + (-1 - turn)
            row[after] = _re_viewed(row[after], axis)
        index += taken
    return out


def _view_at(row: Row, index: int) -> tuple[Vector, int] | None:
    """(axis towards the viewer, events taken) when a view is named here."""
    event = row[index]
    if event.kind not in ("view", "looking", "from"):
        return None
    end = index + 1
    while end < len(row) and row[end].kind in ("word", "to", "toward", "along"):
        end += 1
    if end >= len(row) or row[end].kind != "direction" or not row[end].options or row[end].options[0].sort != "vector":
        return None
    vector = row[end].options[0].vector
    return (scaled(vector, -1.0) if event.kind == "looking" else vector), end - index + 1


def _turn_near(before: Row, after: Row) -> int | None:
    """Where the turn is that a view speaks of: an index into `before`, or -1 - index into `after`; None when there is none near."""
    for back in range(len(before) - 1, max(-1, len(before) - 6), -1):
        if before[back].kind == "direction" and any(o.sort == "turn" for o in before[back].options):
            return back
    for ahead, event in enumerate(after[:8]):
        if event.kind == "direction" and any(o.sort == "turn" for o in event.options):
            return -1 - ahead
    return None


def _re_viewed(event: Event, axis: Vector) -> Event:
    """The same sense of turning for a viewer on that side. Unviewed senses are told for a viewer at +z."""
    options = tuple(turning(scaled(axis, 1.0 if o.vector[2] > 0 else -1.0), viewed=axis) if o.sort == "turn" else o for o in event.options)
    return replace(event, options=options)


def _angles(row: Row, setting: Setting) -> Row:
    """ "30° north of east", "bearing 045"; a right angle is dropped; another angle stays, and makes the response uncertain."""
    out: Row = []
    index = 0
    while index < len(row):
        event = row[index]
        value = _number(event)
        degree_sign = index + 1 < len(row) and row[index + 1].text in ("°", "º", "deg", "degrees", "degree")
        if value is None or not (degree_sign or _bearing_before(out)):
            out.append(event)
            index += 1
            continue
        after = index + 1 + degree_sign
        if _bearing_before(out):
            out.append(replace(event, kind="direction", options=(bearing(value),)))
        elif (lean := _leaning(row, after, value)) is not None:
            out.append(replace(event, kind="direction", options=(lean[0],), text=" ".join(e.text for e in row[index : lean[1]])))
            after = lean[1]
        elif value % 90:
            out.append(replace(event, kind="angle", name=str(value)))
        else:
            out.append(replace(event, kind="vague"))
        index = after
    return out


def _number(event: Event) -> float | None:
    text = event.name if event.kind == "number" else ""
    return float(text) if text and len(text) < 8 and text.replace(".", "", 1).isdecimal() else None


def _bearing_before(out: Row) -> bool:
    return any(e.text.lower() == "bearing" for e in out[-3:])


def _leaning(row: Row, at: int, value: float) -> tuple[Direction, int] | None:
    """After "30°": "north of east", "above the right", "to the left of vertical up"."""
    kinds = [e for e in row[at : at + 5]]
    dirs = [(i, e) for i, e in enumerate(kinds) if e.kind == "direction" and e.options and e.options[0].sort == "vector"]
    between = [e.text.lower() for e in kinds[dirs[0][0] : dirs[1][0]]] if len(dirs) == 2 else []
    if not between or not {"of", "from", "above", "below"} & set(between):
        return None
    towards, start = dirs[0][1].options[0].vector, dirs[1][1].options[0].vector
    return (leaning(start, towards, value), at + dirs[1][0] + 1) if abs(dot(towards, start)) < 1e-6 else None


def _places(row: Row, setting: Setting) -> Row:
    """ "towards the magnet", "away from the wire"; a place of no known direction gives a direction that cannot be told."""
    out: Row = []
    index = 0
    while index < len(row):
        event = row[index]
        following = row[index + 1] if index + 1 < len(row) else None
        if event.kind not in ("toward", "away") or following is None:
            weak = event.kind == "place"
            out.append(replace(event, kind="direction", weak=True) if weak else event)
            index += 1
            continue
        sign = 1.0 if event.kind == "toward" else -1.0
        text = f"{event.text} {following.text}"
        if following.kind in ("direction", "place"):
            options = following.options if sign > 0 else tuple(reversed_direction(o) for o in following.options)
            out.append(replace(following, kind="direction", options=options, text=text, start=event.start, end=following.end))
            index += 2
        elif following.kind in ("word", "ask", "quantity"):
            out.append(replace(following, kind="direction", options=(), text=text, start=event.start, end=following.end, asks=()))
            index += 2
        else:
            out.append(event)
            index += 1
    return out


def _located(row: Row, setting: Setting) -> Row:
    """ "on the right hand side of the wire", "to the left of the magnet": where, not which way; weak, in case nothing else is said."""
    out: Row = []
    for index, event in enumerate(row):
        before = row[index - 1].text.lower() if index else ""
        after = [e.text.lower() for e in row[index + 1 : index + 3]]
        place = before in ("on", "at") or (
            len(after) == 2 and after[0] == "of" and row[index + 2].kind in ("word", "ask", "place", "direction")
        )
        out.append(replace(event, weak=True) if event.kind == "direction" and place else event)
    return out


def _from_to(row: Row, setting: Setting) -> Row:
    """ "from left to right", "top to bottom": the second; "from the left" alone cannot be told."""
    out: Row = []
    index = 0
    while index < len(row):
        here = row[index : index + 4]
        kinds = [e.kind for e in here]
        if kinds[:4] == ["from", "direction", "to", "direction"]:
            out.append(here[3])
            index += 4
        elif kinds[:3] == ["direction", "to", "direction"] and _against(here[0], here[2]):
            out.append(here[2])
            index += 3
        elif kinds[:2] == ["from", "direction"]:
            out.append(replace(here[1], options=(), text=f"{here[0].text} {here[1].text}"))
            index += 2
        else:
            out.append(row[index])
            index += 1
    return out


def _against(a: Event, b: Event) -> bool:
    return bool(not a.weak and not b.weak and a.options and b.options) and dot(a.options[0].vector, b.options[0].vector) < -0.9


def _with_quantity(row: Row, setting: Setting) -> Row:
    """ "along the field", "against the current": the datum's own direction."""
    out: Row = []
    index = 0
    while index < len(row):
        event = row[index]
        target = _after(row, index + 1, "quantity")
        if event.kind not in ("along", "opposite") or target is None or row[target].name in setting.asked:
            out.append(event)
            index += 1
            continue
        vector = setting.given.get(row[target].name)
        sign = 1.0 if event.kind == "along" else -1.0
        if vector is None and row[target].name == "velocity":
            tangent = TANGENT if sign > 0 else reversed_direction(TANGENT)
            options: tuple[Direction, ...] = (tangent,)
        else:
            options = (pointing(scaled(vector, sign)),) if vector is not None and vector != ORIGIN else ()
        text = " ".join(e.text for e in row[index : target + 1])
        out.append(replace(event, kind="direction", options=options, text=text, end=row[target].end, weak=not options))
        index = target + 1
    return out


def _opposite_to(row: Row, setting: Setting) -> Row:
    """ "opposite to up" is down; "along the left" is left."""
    out: Row = []
    index = 0
    while index < len(row):
        event = row[index]
        target = _after(row, index + 1, "direction") if event.kind in ("opposite", "along") else None
        joined = target is not None and (
            event.kind == "along" or any(e.kind in ("to", "along", "from") or e.text.lower() == "of" for e in row[index + 1 : target])
        )
        if target is None or not joined:
            out.append(replace(event, kind="word") if event.kind == "along" else event)
            index += 1
            continue
        found = row[target]
        options = found.options if event.kind == "along" else tuple(reversed_direction(o) for o in found.options)
        out.append(replace(found, options=options, start=event.start, text=" ".join(e.text for e in row[index : target + 1])))
        index = target + 1
    return out


def _after(row: Row, index: int, kind: str) -> int | None:
    """The next event of a kind with only joining words before it."""
    for at in range(index, min(index + 4, len(row))):
        if row[at].kind == kind:
            return at
        if row[at].kind not in ("word", "to", "from", "link", "along"):
            return None
    return None


def _nothing(row: Row, setting: Setting) -> Row:
    """ "no force", "doesn't feel any force", "no resultant magnetic force": zero; another "no" is a change of mind."""
    out: Row = []
    index = 0
    while index < len(row):
        event = row[index]
        denies = event.kind == "not" or event.text.lower() == "no"
        if event.kind == "direction" and event.options == (ZERO,) and event.text.lower().startswith(("no", "doesn", "isn", "undefl")):
            # "not deflected to the left" denies a direction, not the force
            out.append(replace(event, kind="not") if _after(row, index + 1, "direction") is not None else event)
            index += 1
            continue
        target = _denied_quantity(row, index, setting) if denies else None
        if target is not None:
            found = row[target]
            after = _after(row, target + 1, "direction")
            if after is not None:  # "no force to the left"
                out.append(replace(event, kind="not"))
            else:
                out.append(
                    replace(
                        found, kind="direction", options=(ZERO,), start=event.start, text=" ".join(e.text for e in row[index : target + 1])
                    )
                )
            index = target + 1
            continue
        if event.text.lower() == "no" and event.kind == "word":
            out.append(replace(event, kind="second_thoughts"))
        else:
            out.append(event)
        index += 1
    return out


def _denied_quantity(row: Row, index: int, setting: Setting) -> int | None:
    for at in range(index + 1, min(index + 6, len(row))):
        if row[at].kind == "quantity" and row[at].name in setting.asked:
            return at
        if row[at].kind not in ("word", "moving", "same"):
            return None
    return None


def _negated(row: Row, setting: Setting) -> Row:
    """ "not to the left": the direction is denied (sign 0)."""
    out = list(row)
    for index, event in enumerate(row):
        if event.kind != "not":
            continue
        for at in range(index + 1, min(index + 7, len(row))):
            if out[at].kind in ("direction", "vague"):
                out[at] = replace(out[at], sign=0.0)
                if not (at + 1 < len(row) and row[at + 1].kind in ("or", "not") and event.text.lower() in ("neither", "not")):
                    break
            elif out[at].kind in _BREAK - {"or"}:
                break
    return out


PASSES: tuple[Callable[[Row, Setting], Row], ...] = (
    _relative, _views, _angles, _places, _located, _from_to, _with_quantity, _opposite_to, _nothing, _negated,
)  # fmt: skip
