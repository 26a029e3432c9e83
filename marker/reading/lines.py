"""A whole response: its lines, their statements, and what one line does to another.

Thirty candidates type the same line, so a line's reading is kept, with the part's symbols and what the rest of the
response settles (its decimal sign, the letters it uses as symbols).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from marker.frozen import frozen
from marker.reading.blanks import without_blank
from marker.reading.carrying import ANSWER, LEADS, SHARE_OF, from_line_before, go_on, is_value, last_value, with_answer, with_share
from marker.reading.clean import Clean, clean
from marker.reading.labels import DASHED, Label, blanked, head_label, label_of, labels_inside
from marker.reading.letters import usual_products
from marker.reading.model import Assumption, Fragment, Line, Reading, Readings, Statement, SymbolTable
from marker.reading.numbers import BARE_STYLE, ENDS_IN_POWER, LOST_STYLE, PLAIN_STYLE, NumberStyle
from marker.reading.ranges import WHY, masked, ranges
from marker.reading.rewording import reworded
from marker.reading.segment import Prose, Segment
from marker.reading.segments import pick_out
from marker.reading.spacing import UNEVEN, evenly
from marker.reading.statements import Failure, readings
from marker.reading.symbols import Symbols, compiled
from marker.reading.whole import all_mathematics

LONGEST_LINE = 2000
MOST_LINES = 200
_MOST_STATEMENTS = 40

_DECIMAL_POINT = re.compile(r"\d\.\d|(?<!\d)\.\d")
_DECIMAL_COMMA = re.compile(r"(?<![\d,.])(?:\d+,(?:\d{1,2}|\d{4,})|0,\d+)(?![\d,.])")
_CROSS = re.compile(r"\d\s*[×xX*]\s*\d")
# a superscript typed on the line beyond doubt: 10-34, ms-1, (4.0x10-3)2, mv2/r; and the signs of one that is not
_LOST = re.compile(r"[×xX*·.]\s?10\s?-\s?\d|[a-z]-[1-4](?![\d.])|\)2(?![\d.])|[A-Za-z][a-z]2(?=\s?[=/+)]|\s*$)", re.MULTILINE)
_RAISED = re.compile(r"[\^²³⁰¹⁴-⁹⁻]|\*\*")
_LETTER_2 = re.compile(r"(?<![\d.)][xX])([A-Za-zα-ωΔ])2(?!\w*\s?[:)])(?![\d.])")
_SECOND = re.compile(r"\s*ii\s")
_SUBJECT = re.compile(r"(?:^|(?<![\d.)])[\s;,:$(])([A-Za-z])\s*[=≈]", re.MULTILINE)
_PAIR_SUBJECT = re.compile(r"(?:^|[;,:]|\b(?:so|then|and|hence|therefore))\s*([A-Za-z][a-z])\s*[=≈]", re.MULTILINE)
_OWN_SUBJECT = re.compile(r"\s*(?:\(?\w{1,3}\)\s*)?\$?([A-Za-z])\s*[=≈]")
_OF_TIME = re.compile(r"[A-Za-zα-ω]\(t\)\s?=")
_PAIR = re.compile(r"(?<![A-Za-z_\d])([A-Za-z])([a-z])(?![A-Za-z_\d^²³'])")
_INDEXED = re.compile(r"([A-Za-zα-ω])(?:_?\{?[01]|₀|₁)(?![\d.])")


class Context(NamedTuple):
    """What the response as a whole settles for each of its lines.

    dashed  its lines begin with a dash, which is no minus sign
    before  the value the line before comes to, where this line begins with a sign
    """

    style: NumberStyle = PLAIN_STYLE
    used: frozenset[str] = frozenset()
    roman: bool = False
    dashed: bool = False
    before: str = ""
    range_ends: bool = False


@frozen(kw_only=False)
class _Read:
    line: Line
    withdraws: str


def read_lines(lines: Sequence[str], table: SymbolTable, *, range_ends: bool = False) -> tuple[Line, ...]:
    """Every line of a response, in order, numbered from 1. Never raises on what a candidate typed.

    range_ends  a range of values (3 to 5 N) is read as its two ends, for an answer that may be one; else it is not read
    """
    return _read_lines(tuple(lines), table, range_ends)


@lru_cache(maxsize=4096)
def _read_lines(lines: tuple[str, ...], table: SymbolTable, range_ends: bool) -> tuple[Line, ...]:
    kept = lines[:MOST_LINES]
    context = _context(kept, range_ends)
    found: list[Line] = []
    for number, text in enumerate(kept, start=1):
        here = _after(found, _narrowed(context, text), text)
        read = read_line(text, table, here) if number == 1 else _numbered(text, table, here, number)
        if read.withdraws:
            _withdraw(found, everything=read.withdraws == "all")
        found.append(read.line)
    for number in range(len(kept) + 1, len(lines) + 1):
        text = lines[number - 1]
        why = f"only the first {MOST_LINES} lines are read"
        found.append(Line(number=number, text=text, unread=(Fragment(at=(0, len(text)), text=text[:80], why=why),)))
    return tuple(found)


def _context(lines: tuple[str, ...], range_ends: bool = False) -> Context:
    whole = "\n".join(line[:LONGEST_LINE] for line in lines)
    raised = _RAISED.search(whole)
    lost = raised is None and (_LOST.search(whole) is not None or _squared_letter(whole))
    bare = not lost and raised is None
    style = LOST_STYLE if lost else BARE_STYLE if bare else PLAIN_STYLE
    if "," in whole or "·" in whole or "⋅" in whole:  # only these are read by what the response does elsewhere
        style = NumberStyle(
            decimal_point=_DECIMAL_POINT.search(whole) is not None,
            decimal_comma=_DECIMAL_COMMA.search(whole) is not None,
            cross=_CROSS.search(whole) is not None,
            lost=lost,
            bare=bare,
        )
    roman = "ii" in whole and any(_SECOND.match(line) for line in lines)
    argument = {"t"} if "(t)" in whole and _OF_TIME.search(whole) else set[str]()
    subjects = [*_SUBJECT.findall(whole), *_PAIR_SUBJECT.findall(whole)] if "=" in whole or "≈" in whole else ()
    used = {*argument, *subjects, *_told_apart(whole), *[stem + "#" for stem in _INDEXED.findall(whole)]}
    return Context(style, frozenset(used), roman, _dashed(lines), range_ends=range_ends)


def _told_apart(whole: str) -> set[str]:
    """Vp, Vs and Np, Ns; Rt and Rs: letters with an index each, where two of one capital stem, or of two stems alike, are typed."""
    found: dict[str, set[str]] = {}
    for stem, index in _PAIR.findall(whole):
        if stem + index not in usual_products() and (stem + index).lower() not in usual_products():
            found.setdefault(stem, set()).add(index)
    several = {stem: indices for stem, indices in found.items() if len(indices) > 1}
    alike = {stem for stem, own in several.items() if any(len(own & other) > 1 for s, other in several.items() if s != stem)}
    return {stem + index for stem, own in several.items() if stem.isupper() or stem in alike for index in own}


def _squared_letter(whole: str) -> bool:
    """v2 = u2 + 2as, I2R: a letter with a 2 and nowhere with a 1, so no index."""
    return any(f"{letter}1" not in whole for letter in _LETTER_2.findall(whole))


def _bare(style: NumberStyle, text: str) -> NumberStyle:
    return BARE_STYLE if style.bare and ENDS_IN_POWER.search(text) is not None else PLAIN_STYLE


def _dashed(lines: tuple[str, ...]) -> bool:
    """A list in dashes: two lines in three begin with one and a space, and there is more than one such."""
    if len(lines) < 2:
        return False
    typed = [line for line in lines if line.strip()]
    found = sum(DASHED.match(clean(line[:20]).text) is not None for line in typed)
    return found > 1 and 3 * found >= 2 * len(typed)


def _narrowed(context: Context, text: str) -> Context:
    """The context with only what can matter to this line, so that equal lines share one reading."""
    subject = _OWN_SUBJECT.match(text)
    own = subject.group(1) if subject is not None else ""
    # V = IR = 12 V: the line's own subject is no factor of its value
    used = frozenset(letter for letter in context.used if letter.rstrip("#") in text and letter != own)
    kept = context.style.lost or any(c in text for c in ",·⋅.")
    style = context.style if kept else _bare(context.style, text)
    return Context(style, used, context.roman and text.lstrip()[:1] in ("i", "I"), context.dashed, range_ends=context.range_ends)


def _after(found: list[Line], context: Context, text: str) -> Context:
    """The context of a line that begins with a sign, with the value of the last line it can go on from."""
    if not found:
        return context
    start = clean(text[:40]).text
    if not (LEADS.match(start) or ANSWER.match(start) or SHARE_OF.search(text[:LONGEST_LINE])):
        return context
    for line in reversed(found):
        kept = [s for s in line.statements if not s.withdrawn]
        if kept:
            side = kept[-1].readings[0].sides[-1]
            at = side.at if is_value(side) else None
            return context if at is None else context._replace(before=clean(line.text[at[0] : at[1]]).text)
    return context


def _withdraw(found: list[Line], everything: bool) -> None:
    """Crosses out the line before, or all of them."""
    for index in range(len(found) - 1, -1, -1):
        line = found[index]
        if line.statements:
            found[index] = replace(line, statements=tuple(replace(s, withdrawn=True) for s in line.statements), withdrawn=True)
            if not everything:
                return


@lru_cache(maxsize=8192)
def _numbered(text: str, table: SymbolTable, context: Context, number: int) -> _Read:
    read = read_line(text, table, context)
    statements = tuple(replace(s, line=number) for s in read.line.statements)
    return _Read(replace(read.line, number=number, statements=statements), read.withdraws)


@lru_cache(maxsize=8192)
def read_line(text: str, table: SymbolTable, context: Context) -> _Read:
    """One line as line number 1, and what it crosses out."""
    if len(text) > LONGEST_LINE:
        why = f"the line has more than {LONGEST_LINE} characters"
        return _Read(Line(number=1, text=text, unread=(Fragment(at=(0, len(text)), text=text[:80], why=why),)), "")
    symbols = compiled(table)
    typed = clean(text)
    if UNEVEN.search(typed.text) is not None and all_mathematics(typed.text, symbols) is None:
        typed = evenly(typed)
    cleaned, slips = reworded(with_share(with_answer(typed, context.before), context.before), symbols)
    label, start = head_label(cleaned.text, context.dashed, context.roman)
    labels = labels_inside(cleaned.text, label, start) if label else []
    body = cleaned if not start else Clean(blanked(cleaned.text, start, labels), cleaned.starts, cleaned.ends)
    spans = [] if context.range_ends else ranges(body, text)
    body = masked(body, spans) if spans else body
    prose = pick_out(body, symbols, context.used)
    statements, unread = _statements(text, body, prose, symbols, context, [(0, start, label), *labels])
    unread += tuple(Fragment(at=(a, b), text=text[a:b], why=WHY) for a, b in (body.place(*s) for s in spans))
    statements = tuple(_with_slips(s, slips) for s in statements) if slips else statements
    words = f"{label}) {prose.words}" if label and not statements else prose.words
    withdrawn = bool(statements) and all(s.withdrawn for s in statements)
    points = tuple(body.place(a, b) for a, b in prose.points)
    line = Line(
        number=1, text=text, statements=statements, unread=unread, words=words.strip(), withdrawn=withdrawn, points=_points(text, points)
    )
    return _Read(line, prose.withdraws)


def _with_slips(statement: Statement, slips: tuple[Assumption, ...]) -> Statement:
    """The statement with the slips of the finger that were mended in it among its readings' assumptions."""
    here = tuple(s for s in slips if s.at is not None and statement.at[0] <= s.at[0] < statement.at[1])
    if not here:
        return statement
    found = statement.readings

    def noted(reading: Reading) -> Reading:
        return replace(reading, assumptions=(*reading.assumptions, *here))

    return replace(statement, readings=Readings([noted(found[0])], lambda: [noted(r) for r in found]))


def _statements(
    text: str, body: Clean, prose: Prose, symbols: Symbols, context: Context, labels: list[Label]
) -> tuple[tuple[Statement, ...], tuple[Fragment, ...]]:
    statements: list[Statement] = []
    unread: list[Fragment] = []
    before = from_line_before(context.before, 0) if context.before else None
    reached = -1
    leading = any(s.leads >= 0 for s in prose.segments[1:])
    for whole in prose.segments[:_MOST_STATEMENTS]:
        segment = without_blank(body.text, whole)
        if segment.leads >= 0 and before is not None:
            found = readings(*go_on(body, segment, before), symbols, context.style, context.used)
        else:
            found = readings(body, segment, symbols, context.style, context.used)
        at = body.hull(segment.start, segment.end)
        before = None if not leading or isinstance(found, Failure) or segment.withdrawn else last_value(body, segment, found)
        if isinstance(found, Failure):
            if _matters(body.text[segment.start : segment.end], segment):
                unread.append(Fragment(at=at, text=text[at[0] : at[1]], why=found.why))
            continue
        statements.append(_statement(text, at, segment, found, segment.label or label_of(segment.start, labels, reached)))
        reached = segment.start
    for segment in prose.segments[_MOST_STATEMENTS:]:
        at = body.place(segment.start, segment.end)
        unread.append(Fragment(at=at, text=text[at[0] : at[1]], why=f"only {_MOST_STATEMENTS} statements of a line are read"))
    return tuple(statements), tuple(unread)


def _statement(text: str, at: tuple[int, int], segment: Segment, found: Readings, label: str) -> Statement:
    return Statement(
        line=1,
        at=at,
        text=text[at[0] : at[1]],
        readings=found,
        before=segment.before.strip(),
        label=label,
        withdrawn=segment.withdrawn,
        alternative=segment.alternative,
        final=segment.final,
        tentative=segment.tentative,
    )


def _matters(text: str, segment: Segment) -> bool:
    """A stretch that looked like mathematics: it has a figure, or a typed relation between letters."""
    return any(c.isdigit() for c in text) or bool(segment.relations)


def _points(text: str, places: Sequence[tuple[int, int]]) -> tuple[tuple[float, float], ...]:
    """Pairs such as (20, 7.4), for gradients read off a graph."""
    found = []
    for start, end in places:
        numbers = re.findall(r"[-−]?\d+(?:\.\d+)?|[-−]?\.\d+", text[start:end])
        if len(numbers) == 2:
            a, b = (float(n.replace("−", "-")) for n in numbers)
            found.append((a, b))
    return tuple(found)
