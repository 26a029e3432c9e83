"""A whole response judged: lines read, own letters settled, each statement in the reading the candidate meant."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from html import escape
from itertools import pairwise

from marker.expression import Dimensions, Symbol, has_unit, symbols
from marker.judging.chain import Chain
from marker.judging.desk import Desk
from marker.judging.leaves import is_numeric, is_value
from marker.judging.letters import Pair, match_letters
from marker.judging.model import Evidence, JudgedLine, JudgedScript
from marker.judging.sources import OwnNumber, Sources, letter
from marker.judging.two_values import with_either_sign
from marker.physics.units import parse_unit
from marker.reading import read_lines
from marker.reading.aliases import told_apart
from marker.reading.model import Line, Reading, Statement
from marker.reading.writing import write_mathml, write_plain, write_reading
from marker.results import OwnValue
from marker.scheme.compiled import CompiledCalculation

CHEAP = 1e-9
HIDDEN = 3.0  # what a reading costs that loses a relationship the plainest one shows


def judge_script(part: CompiledCalculation, typed: Sequence[str], carried: Mapping[str, OwnValue]) -> JudgedScript:
    """All evidence of a response, in order. Pure: equal lines give equal evidence.

    carried  the candidate's own answers of earlier parts, under "part.symbol".
    """
    lines = read_lines(typed, told_apart(part.table, typed))
    own = _carried(part, carried)
    letters = match_letters(part, _pairs(lines), Sources(part, own))
    desk = Desk(part=part, letters=letters, own=own, foreign=_foreign(part, carried))
    judged: list[JudgedLine] = []
    crossed: list[Evidence] = []
    doubts: list[str] = []
    for line in lines:
        chosen: list[Reading] = []
        for statement in line.statements:
            before = len(desk.evidence)
            after, reading = _choose(desk, statement)
            if statement.withdrawn or line.withdrawn:
                crossed.extend(after.evidence[before:])
            else:
                desk = after
            chosen.append(reading)
        judged.append(_judged_line(line, chosen))
        doubts.extend(f"line {line.number}: {f.text!r} could not be read ({f.why})" for f in line.unread if not line.withdrawn)
    words = " ".join(line.words for line in lines if not line.withdrawn)
    return JudgedScript(evidence=tuple(desk.evidence), lines=tuple(judged), crossed=tuple(crossed), words=words, doubts=tuple(doubts))


def _choose(desk: Desk, statement: Statement) -> tuple[Desk, Reading]:
    """The desk after the reading with the fewest wrongs; the plainest of those with as few.

    A reading that loses a relationship which the plainest one shows in symbols hides a wrong and does not mend it.
    """
    best: tuple[float, Desk, Reading] | None = None
    plain: frozenset[int] | None = None
    for reading in (r for one in _of_use(desk.part, statement) for r in with_either_sign(one)):
        trial = Chain(desk=desk.fork(), statement=statement, reading=reading, text=_texts(reading, statement)).judge()
        shown = _shown(trial.evidence[len(desk.evidence) :])
        plain = shown if plain is None else plain
        wrongs = trial.wrongs - desk.wrongs + 0.3 * reading.cost + (HIDDEN if plain - shown else 0.0)
        if best is None or wrongs < best[0] - CHEAP:
            best = (wrongs, trial, reading)
        if trial.wrongs - desk.wrongs <= CHEAP and not plain - shown:
            break
    assert best is not None
    return best[1], best[2]


def _of_use(part: CompiledCalculation, statement: Statement) -> Sequence[Reading]:
    """The readings; in a part without values those without a unit (2s is twice s), where there is one."""
    if part.data or part.carry:
        return statement.readings
    return [r for r in statement.readings if not any(has_unit(s) for s in r.sides)] or statement.readings


def _shown(evidence: Sequence[Evidence]) -> frozenset[int]:
    """Relationships rightly shown in symbols."""
    return frozenset().union(*(e.relations for e in evidence if e.symbolic and e.right))


@lru_cache(maxsize=5_000)
def _texts(reading: Reading, statement: Statement) -> tuple[str, ...]:
    """The typed text of each side, as far as its place is known; else the side written out."""
    out = []
    for side in reading.sides:
        plain = write_plain(side)
        if side.at is not None:
            start, end = side.at[0] - statement.at[0], side.at[1] - statement.at[0]
            plain = statement.text[max(0, start) : max(0, end)].strip() or plain
        out.append(plain)
    return tuple(out)


def _pairs(lines: Sequence[Line]) -> list[Pair]:
    out: list[Pair] = []
    for line in lines:
        for statement in line.statements:
            if statement.withdrawn or line.withdrawn:
                continue
            plain = statement.readings[0]
            for reading in statement.readings[:6]:
                sides = reading.sides
                if "∝" in reading.relations or _unit_as_letters(plain, reading):
                    continue
                out.extend((a, b) for a, b in pairwise(sides))
                if len(sides) > 2 and symbols(sides[0]):
                    out.extend((sides[0], b) for b in sides[2:])
    return out


def _unit_as_letters(plain: Reading, other: Reading) -> bool:
    """The other reading makes letters of the unit of a value that a lone letter, or numbers, are set equal to (`v = 1.0 m/s`)."""
    if other is plain or len(plain.sides) != len(other.sides):
        return False
    for (before, value), read in zip(pairwise(plain.sides), other.sides[1:], strict=True):
        stands = isinstance(before, Symbol) or is_numeric(before)
        if stands and is_value(value) and has_unit(value) and symbols(read):
            return True
    return False


def _carried(part: CompiledCalculation, carried: Mapping[str, OwnValue]) -> list[OwnNumber]:
    """Own values of the quantities this part carries; of a quantity whose sign is a matter of choice, with both signs."""
    found = []
    for symbol, (source, name) in part.carry.items():
        for key, own in carried.items():
            if key.split("#")[0] != f"{source}.{name}":
                continue
            for sign in (1.0, -1.0) if symbol in part.signed else (1.0,):
                raw = sign * _raw(own, own.value)
                value = sign * own.value
                meant = letter(symbol)
                found.append(OwnNumber(stands_for=meant, si=value, raw=raw, half=0.0, line=0, symbol=symbol, right=own.right, carried=True))
    return found


def _foreign(part: CompiledCalculation, carried: Mapping[str, OwnValue]) -> tuple[tuple[float, Dimensions | None], ...]:
    """Own values of earlier parts that this part does not carry."""
    wanted = {f"{source}.{name}" for source, name in part.carry.values()}
    return tuple((own.value, _unit_dimensions(own.unit)) for key, own in carried.items() if key.split("#")[0] not in wanted)


def _unit_dimensions(unit: str) -> Dimensions | None:
    found = parse_unit(unit) if unit else ()
    return found[0][0].dimensions if found else None


def _raw(own: OwnValue, fallback: float) -> float:
    try:
        return float(own.typed)
    except ValueError:
        return fallback


def _judged_line(line: Line, chosen: Sequence[Reading]) -> JudgedLine:
    return JudgedLine(
        number=line.number,
        text=line.text,
        readings=tuple(write_reading(r) for r in chosen),
        mathml="".join(_mathml(r) for r in chosen),
        assumptions=tuple(dict.fromkeys(a.text for r in chosen for a in r.assumptions)),
        withdrawn=line.withdrawn or (bool(line.statements) and all(s.withdrawn for s in line.statements)),
        unread=tuple(f.text for f in line.unread),
        remark=not line.statements and not line.unread,
    )


@lru_cache(maxsize=5_000)
def _mathml(reading: Reading) -> str:
    parts = [_inside(write_mathml(s)) for s in reading.sides]
    inner = parts[0] if parts else ""
    for relation, part in zip(reading.relations, parts[1:], strict=False):
        inner += f"<mo>{escape(relation)}</mo>{part}"
    return f'<math xmlns="http://www.w3.org/1998/Math/MathML" display="block"><mrow>{inner}</mrow></math>'


def _inside(mathml: str) -> str:
    """The content of a <math> element."""
    start, end = mathml.find(">"), mathml.rfind("</math>")
    return mathml[start + 1 : end] if mathml.startswith("<math") and end > start else mathml
