"""What the shape of a clause says of the events in it: conditions, "both times" after its direction, directions taken back.

    "down, and the same when both are reversed"    what stands in the condition is no direction
    "down both times"                              the direction is said of all that is asked
    "up - no, down" and then a line with both named   the line with the names is the answer
    "up no sorry: down, and down for the second"   what a change of mind takes back needs no turn of its own
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from marker.kinds.direction.events import Event
from marker.kinds.direction.mentions import Mention

_ENDS = frozenset({"stop", "newline", "comma", "so"})
_SAYS = frozenset({"direction", "opposite", "same", "swapped", "mutual", "each_other"})
_CHANGED = ("reverse", "swap", "change", "turn", "flip")


def arranged(row: tuple[Event, ...], asks: int) -> tuple[Event, ...]:
    """The row with conditions as plain words, and with "both" before the direction it follows. One asked direction has neither."""
    return _both_first(_without_conditions(_settled_last(row, asks))) if asks > 1 else row


def _settled_last(row: tuple[Event, ...], asks: int) -> tuple[Event, ...]:
    """The last line alone, where it names all that is asked with a direction each, and what stands before names nothing and changes its
    mind: that was thinking aloud."""
    start = max((i for i, e in enumerate(row) if e.kind == "newline" and any(x.kind == "ask" for x in row[i:])), default=None)
    if start is None:
        return row
    before, last = row[:start], row[start + 1 :]
    named = [e.asks for e in last if e.kind == "ask"]
    whole = sorted(a for asked in named for a in asked) == list(range(asks)) and sum(e.kind == "direction" for e in last) == asks
    aloud = any(e.kind == "second_thoughts" for e in before) and not any(e.kind == "ask" for e in before)
    return last if whole and aloud else row


def _without_conditions(row: tuple[Event, ...]) -> tuple[Event, ...]:
    """ "when both are reversed": up to what is reversed, nothing is said of what is asked."""
    out = list(row)
    for start, event in enumerate(row):
        if event.kind != "when":
            continue
        for at in range(start + 1, min(start + 10, len(row))):
            if row[at].kind in _ENDS or row[at].kind == "direction":
                break
            if row[at].kind in ("opposite", "swapped") and row[at].text.lower().startswith(_CHANGED):
                out[start + 1 : at + 1] = [replace(e, kind="word") if e.kind != "ask" else e for e in row[start + 1 : at + 1]]
                break
    return tuple(out)


def _both_first(row: tuple[Event, ...]) -> tuple[Event, ...]:
    """ "down both times" as "both times down", where no other direction or name stands in the clause after it."""
    out = list(row)
    for at, event in enumerate(row):
        if event.kind != "both":
            continue
        before = next((i for i in range(at - 1, max(-1, at - 5), -1) if row[i].kind != "word"), None)
        after = next((e.kind for e in row[at + 1 :] if e.kind != "word"), "stop")
        alone = before is not None and row[before].kind == "direction" and not any(e.kind in ("both", "ask") for e in row[:before])
        if before is not None and alone and after in _ENDS:
            out.insert(before, out.pop(at))
    return tuple(out)


def without_replaced(row: Sequence[Event], found: list[Mention], asks: int) -> list[Mention]:
    """Bare directions less those that a change of mind takes back: with two asked, "up no sorry: down, and down" has two."""
    bare = [m for m in found if not m.asks and not m.relation and not m.denied and not m.aside]
    marks = [i for i, e in enumerate(row) if e.kind == "second_thoughts"]
    if asks < 2 or len(bare) <= asks or len(bare) < len(found) - sum(m.aside for m in found) or not marks:
        return found
    before = [m for m in bare if m.order < marks[-1]]
    after = len(bare) - len(before)
    if not before or not 0 < after <= asks:
        return found
    gone = {m.order for m in before[asks - after :]}
    return [m for m in found if m.order not in gone]
