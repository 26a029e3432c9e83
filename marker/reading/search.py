"""The cheapest ways through the lattice: token lists in rising cost.

A best-first search; what an edge costs depends also on what stands before it, so that a unit follows a number readily and a
letter hardly.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from heapq import heappop, heappush
from itertools import count

from marker.physics import units
from marker.reading.area import Area
from marker.reading.lattice import Lattice
from marker.reading.letters import LETTER_RUN, usual_products
from marker.reading.model import Assumption
from marker.reading.tokens import Edge, Tok

Path = tuple[float, tuple[Tok, ...], tuple[Assumption, ...], tuple[tuple[str, str], ...]]

# cost, minus the place reached, a serial number, what kind of token stands last, the edges so far, the choices made
_State = tuple[float, int, int, str, tuple[object, ...], tuple[tuple[str, str], ...]]

_MOST_STEPS = 4000
_LITTLE = 0.1  # less than a letter costs that nobody knows
_SERIAL = count()  # settles ties of cost and place, so that edges are never compared
_ROOT_FACTOR = re.compile(r"(?:√|sqrt|root|rt)\s?\(?[2348]$")
_SMALL_FRACTION = re.compile(r"(?<![\d.])[1-5]/[2-8]\s?$")
_FRACTION = re.compile(r"\(\d{1,2}/\d{1,2}\)\s?$")

# what may follow without further cost: by the kind before
_FREE = {k: frozenset("NOFSK") for k in "sBOPF"} | {
    "N": frozenset("BCPOFK"),
    "S": frozenset("BCPOFSK"),
    "U": frozenset("BCPOK"),
    "C": frozenset("BCPOFK"),
}
_OPERAND = frozenset("NSUC")
_NEEDS = frozenset("sBOPF")


def paths(lattice: Lattice) -> Iterator[Path]:
    """Token lists in rising cost. Each has its assumptions; the search gives up after a bounded number of steps."""
    area = lattice.area
    heap: list[_State] = [(0.0, -_skip(lattice.limit, area.start, area.end), 0, "s", (), ())]
    for _ in range(_MOST_STEPS):
        if not heap:
            return
        state = heappop(heap)
        if -state[1] < area.end:
            for reached in _onward(lattice, state):
                heappush(heap, reached)
        elif state[3] in _OPERAND:
            yield _path(state[0], state[4], state[5])


def first_path(lattice: Lattice) -> Path | None:
    """The cheapest token list, or nearly: a unit that costs next to nothing is taken at once, and no place is left twice in one way."""
    area = lattice.area
    heap: list[_State] = [(0.0, -_skip(lattice.limit, area.start, area.end), 0, "s", (), ())]
    left: set[tuple[int, str, bool]] = set()
    for _ in range(_MOST_STEPS):
        if not heap:
            return None
        before = heappop(heap)
        state, chooses = _ahead(lattice, before, left)
        if state is None:
            continue
        if chooses:
            for other in _onward(lattice, state):
                heappush(heap, other)
        elif state[0] > before[0]:
            heappush(heap, state)
        elif state[3] in _OPERAND:
            return _path(state[0], state[4], state[5])
    return None


def _ahead(lattice: Lattice, state: _State, left: set[tuple[int, str, bool]]) -> tuple[_State | None, bool]:
    """The state as far on as only one token can stand, as at signs, brackets and most numbers; True where there is a choice.

    None when the place of the choice was left in this way before. A token that costs something ends the way.
    """
    cost, negative, _, before, chain, choices = state
    text, end, at = lattice.limit, lattice.area.end, -negative
    while at < end:
        edge = _only_edge(lattice, at, before)
        if edge is None:
            key = (-at, before, bool(choices))
            if key in left:
                return None, False
            left.add(key)
            lattice.open = True
            edge, extra = _clear_unit(lattice, at, before, chain)
            if edge is None:
                return (cost, -at, next(_SERIAL), before, chain, choices), True
        else:
            extra = edge.cost
        before, chain, at = edge.last, (chain, edge), edge.end
        while at < end and text[at] == " ":
            at += 1
        if extra:
            cost += extra
            break
    return (cost, -at, next(_SERIAL), before, chain, choices), False


def _only_edge(lattice: Lattice, at: int, before: str) -> Edge | None:
    """The one token that can stand here, as at signs, brackets and most numbers; None where there is a choice."""
    text = lattice.limit
    c = text[at]
    if (c.isalpha() or c in "°%'\"") and (before in "NCU" or _unit_can_stand(text, at, before)):
        return None
    edge = lattice.plain_sign(at, c)
    if edge is None:
        edges = lattice.edges(at)
        if len(edges) != 1:
            return None
        edge = edges[0]
    return None if edge.choice is not None or edge.kind == "K" or edge.kind not in _FREE[before] else edge


def _clear_unit(lattice: Lattice, at: int, before: str, chain: tuple[object, ...]) -> tuple[Edge | None, float]:
    """The longest unit after a number or bracket, and its cost, when next to nothing speaks against it."""
    text, area = lattice.limit, lattice.area
    if before not in "NC" or not _unit_can_stand(text, at, before):
        return None, 0.0
    unit = lattice.first_unit(at)
    if unit is None:
        return None, 0.0
    cost = _unit_cost(area, text, before, unit, at > 0 and text[at - 1] == " ", chain)
    clear = cost == 0 or (cost is not None and cost < _LITTLE and not any(c in area.symbols.exact for c in text[at : unit.end]))
    return (unit, cost or 0.0) if clear else (None, 0.0)


def _onward(lattice: Lattice, state: _State) -> list[_State]:
    """The states one token further."""
    cost, negative, _, before, chain, choices = state
    area, text = lattice.area, lattice.limit
    at, end = -negative, area.end
    spaced = at > 0 and text[at - 1] == " "
    free = _FREE[before]
    steps: list[tuple[float | None, Edge]]
    steps = [(e.cost if e.kind in free else _step_cost(area, text, before, e, spaced, chain), e) for e in lattice.edges(at)]
    if _unit_can_stand(text, at, before):
        steps += [(_unit_cost(area, text, before, e, spaced, chain), e) for e in lattice.unit_edges(at)]
    reached: list[_State] = []
    for step, edge in steps:
        if step is None or (edge.choice is not None and not _consistent(choices, edge.choice)):
            continue
        after = edge.last if edge.kind != "K" else before
        onward = (chain, edge) if edge.toks or edge.note is not None else chain
        chosen = choices if edge.choice is None or edge.choice in choices else (*choices, edge.choice)
        reached.append((cost + step, -_skip(text, edge.end, end), next(_SERIAL), after, onward, chosen))
    return reached


def _unit_can_stand(text: str, at: int, before: str) -> bool:
    """Quickly rules out most places where no unit can begin."""
    c = text[at]
    if before in "NC":
        return c.isalpha() or c in "°%'\""
    if before == "S":
        return c in "°%" or (c.isalpha() and text[at - 1 : at] == " ")
    if before == "U":
        return False
    if not c.isalpha():
        return c in "°%"
    run = LETTER_RUN.match(text, at)
    if run is None or run.end() - at == 1:
        return text[at + 1 : at + 2] == "/" or text[at - 1 : at] in ("/", "(")
    return units.is_usual_unit(run.group()) or units.is_unit_word(run.group())


def _skip(text: str, at: int, end: int) -> int:
    while at < end and text[at] == " ":
        at += 1
    return at


def _last(chain: tuple[object, ...], back: int = 0) -> Edge | None:
    """The last edge with tokens, or the one `back` before it."""
    while chain:
        chain, edge = chain  # type: ignore[assignment]
        assert isinstance(edge, Edge)
        if edge.toks:
            if back == 0:
                return edge
            back -= 1
    return None


def _consistent(choices: tuple[tuple[str, str], ...], new: tuple[str, str]) -> bool:
    return all(c[0] != new[0] or c[1] == new[1] for c in choices)


def _path(cost: float, chain: tuple[object, ...], choices: tuple[tuple[str, str], ...]) -> Path:
    toks: list[Tok] = []
    notes: list[Assumption] = []
    edges: list[Edge] = []
    while chain:
        chain, edge = chain  # type: ignore[assignment]
        edges.append(edge)  # type: ignore[arg-type]
    for edge in reversed(edges):
        toks += edge.toks
        if edge.note is not None:
            notes.append(edge.note)
    return (cost, tuple(toks), tuple(notes), choices)


def _step_cost(area: Area, text: str, before: str, edge: Edge, spaced: bool, chain: tuple[object, ...]) -> float | None:
    """Cost of the edge after what stands before it; None where it cannot stand."""
    kind = edge.kind
    if kind == "K":
        return edge.cost
    if before in _NEEDS:
        if kind in "NOFS":
            return edge.cost
        if kind == "B" and not edge.wide and edge.toks[0].type in ("PLUS", "MINUS", "PM"):
            last = _last(chain)
            twice = last is not None and last.kind == "B" and last.toks[0].type in ("PLUS", "MINUS", "PM") and _unary(chain)
            return None if twice else edge.cost
        return None
    if kind in "BCP":
        return edge.cost
    if kind == "N":
        return _number_after(text, before, edge, spaced)
    if kind == "S" and before in "NC" and _in_unit_word(area, text, edge):
        return None
    if kind == "S" and before == "N":
        return edge.cost + _symbol_after_number(area, text, edge, spaced)
    if kind == "S" and before == "U":
        return edge.cost + 0.6
    if before == "U" and kind == "F":
        return edge.cost + 0.3
    return edge.cost


def _in_unit_word(area: Area, text: str, edge: Edge) -> bool:
    """The letter begins a unit of three letters or more, "ohms" or "deg": it is not cut."""
    letters = LETTER_RUN.match(text, edge.start)
    if letters is None or letters.end() - edge.start < 3 or edge.start not in range(area.start, area.end):
        return False
    run = letters.group()
    if _ROOT_FACTOR.search(text, max(area.start, edge.start - 8), edge.start) is not None:
        return False  # √(2meV)
    return (units.is_unit_word(run) or units.is_unit_symbol(run)) and not area.symbols.known_letters(run)


def _unary(chain: tuple[object, ...]) -> bool:
    """True when the last sign of the chain has no operand before it."""
    last = _last(chain, 1)
    return last is None or last.kind in "BOPF"


def _number_after(text: str, before: str, edge: Edge, spaced: bool) -> float | None:
    """A number straight after an operand: after a bracket or a unit (3 min 54 s); hardly after a letter or another number."""
    if before == "C":
        return edge.cost + (0.3 if spaced else 0.6)
    if before == "U":
        return edge.cost + 0.2
    if before == "S" and spaced:
        return edge.cost + 1.5
    if before == "N" and spaced:
        return edge.cost + 4.0
    return None


def _symbol_after_number(area: Area, text: str, edge: Edge, spaced: bool) -> float:
    """2.0 m: a lone letter that could be a unit costs something as a symbol when nothing follows it."""
    after = text[edge.end : edge.end + 1]
    typed = text[edge.start : edge.end]
    if after and (after.isalpha() or after in "^_(√"):
        run = LETTER_RUN.match(text, edge.start)
        if run is None or after in "^_(√" or not units.is_usual_unit(run.group()):
            return 0.0
        return 1.0 if edge.toks[0].value[1] is False else 0.2
    if not units.is_unit_symbol(typed):
        return 0.0
    return 0.4 if not spaced else 0.5


def _unit_cost(area: Area, text: str, before: str, edge: Edge, spaced: bool, chain: tuple[object, ...]) -> float | None:
    typed = text[edge.start : edge.end]
    if before in "NC":
        return edge.cost + _unit_after_number(area, text, before, edge, spaced, chain)
    if before == "U":
        return None
    last = _last(chain)
    if before == "S":
        if last is not None and last.toks[-1].value == ("π", True):
            return edge.cost + (0.0 if typed.startswith("rad") else 0.8 if spaced else 1.5)
        if typed in ("°", "%"):
            return edge.cost + 1.0
        if not spaced or len(typed) == 1:
            return None
        return edge.cost + (0.1 if units.is_unit_word(re.split("[ /]", typed)[0]) and not area.symbols.exact else 2.0)  # N molecules
    if edge.note is not None and edge.note.code == "unit-case":
        return None
    if last is not None and last.kind == "B" and last.toks[0].type == "SLASH":
        over = _number_before(chain)
        if over is not None:
            return edge.cost + (0.4 if over == "1" or all(c in area.used or c in area.symbols.exact for c in typed if c.isalpha()) else 0.1)
    multi = len(typed) > 1 and not area.symbols.known_letters(typed)
    if typed in usual_products():
        return edge.cost + 2.0  # h = E/(mg) is no milligram
    if multi and typed[1] == " " and units.is_unit_word(re.split("[ /]", typed)[1]):
        return None  # N molecules: the letter is a number
    following = text[_skip(text, edge.end, area.end) : area.end]
    if last is not None and last.kind == "O" and following[:1] == ")":
        return edge.cost + (0.4 if multi else 0.9)
    if following[:1] == "/" and following[1:].lstrip()[:1].isdigit():
        return edge.cost + (0.3 if multi else 0.9)
    return edge.cost + 1.2 if multi else None


def _unit_after_number(area: Area, text: str, before: str, edge: Edge, spaced: bool, chain: tuple[object, ...]) -> float:
    """What speaks against a unit after a number or bracket: letters the part or the response uses as symbols, an operand that follows."""
    typed = text[edge.start : edge.end]
    cost = 0.0
    if before == "C" and typed not in "°%":
        cost += (
            1.0 if _FRACTION.search(text, max(area.start, edge.start - 12), edge.start) else 0.3 if not spaced and len(typed) == 1 else 0.0
        )
    if typed in ("l", "d") and not spaced:
        cost += 0.4
    last = _last(chain)
    if (before == "N" and _in_exponent(chain)) or (before == "C" and _in_raised_bracket(chain)):
        cost += 1.5  # 4π² l/g: the letters go on from the power
    if before == "N" and last is not None and len(last.toks) == 3:
        cost += 0.2
    onward = _skip(text, edge.end, area.end)
    follows = text[onward : onward + 1] if onward < area.end else ""
    if follows in ("x", "X") and not text[onward + 1 : onward + 2].isalpha():
        follows = "×"
    together = bool(follows) and (follows.isalpha() or "^" in typed or not spaced)
    if before == "N" and (together or not spaced) and _SMALL_FRACTION.search(text, max(area.start, edge.start - 6), edge.start):
        cost += 1.0
    if before == "N" and _ROOT_FACTOR.search(text, max(area.start, edge.start - 8), edge.start):
        cost += 2.0  # √(2h/g), √(2eV/m): letters, under a root
    if edge.note is not None and edge.note.code == "unit-case":
        cost += 1.0 if "^" in typed or typed[-1].isdigit() else 0.0 if spaced else 0.2
    if follows and (follows.isalpha() or (follows in "(√" and onward == edge.end)):
        cost += 0.3
    letters = [c for c in typed if c.isalpha()]
    if len(letters) == 1 and letters[0] in area.used and _operand_elsewhere(area, letters[0]):
        cost += 1.2  # 12.0 = 3.0 A + 6.0 (A + B)
    if letters and all(c in area.used or c in area.symbols.exact for c in letters):
        unit = edge.toks[0].value.name
        if unit in area.symbols.units or (spaced and area.several):
            return cost
        if len(letters) > 1 or area.symbols.units or (letters[0] in area.used and not (area.several and spaced)):
            cost += 0.8 if not spaced or letters[0] in area.used else 0.3
    return cost


def _operand_elsewhere(area: Area, letter: str) -> bool:
    """True when the letter also stands on this side where no unit can: after a sign or a bracket."""
    text = area.text
    for at in range(area.start, area.end):
        if text[at] == letter and not text[at + 1 : at + 2].isalpha():
            before = text[area.start : at].rstrip()[-1:]
            if before == "" or before in "(+-×*·=√":
                return True
    return False


def _in_exponent(chain: tuple[object, ...]) -> bool:
    """True when the last number is the power of a letter."""
    sign, base = _last(chain, 1), _last(chain, 2)
    return sign is not None and sign.kind == "P" and base is not None and base.kind == "S"


def _in_raised_bracket(chain: tuple[object, ...]) -> bool:
    """The same where the power stands in brackets, as a raised figure does: π^(2) l/T^(2)."""
    kinds = [_last(chain, back) for back in range(1, 5)]
    return [e.kind if e is not None else "" for e in kinds] == ["N", "O", "P", "S"]


def _number_before(chain: tuple[object, ...]) -> str | None:
    """Text of the number that stands before the last sign, None when it is no number."""
    last = _last(chain, 1)
    return str(last.toks[0].value.text) if last is not None and last.kind == "N" and last.toks[0].type == "NUMBER" else None
