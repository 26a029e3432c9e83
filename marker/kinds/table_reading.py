"""Which value stands for which cell: by the cells' names, or in the order of the table."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from marker.kinds.choice_reading import choice_words
from marker.kinds.typed_values import Typed, values_in
from marker.kinds.words import tokens

_LEADING = re.compile(r"^[\s:=|,;\t–—>→-]*(?=[0-9.+½¼¾~≈(])|^[\s:=|,;\t>→]+")
_GAPS = re.compile(r"\s*[|;\t]\s*")
_BARE = re.compile(r"[-−+]?\d{1,12}(?:[.,]\d{1,12})?")
Names = Mapping[int, tuple[tuple[str, ...], ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """cell number -> values given for it, in order; `doubt` why the values could not be told apart.

    taken_back  numbers of lines that were given up;  unread  numbers of lines with writing that came to no value
    """

    cells: Mapping[int, tuple[Typed, ...]] = field(default_factory=dict)
    doubt: str = ""
    taken_back: frozenset[int] = frozenset()
    unread: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Segment:
    """What follows the name of a cell on a line."""

    cell: int
    line: int
    text: str
    offset: int


def name_words(text: str) -> tuple[str, ...]:
    """A name as the words it is looked for by: "0.50 A" is ("0.50", "a")."""
    return tuple(t.text for t in tokens((text,)) if t.text not in ":=|,;")


def filled(lines: Sequence[str], names: Names, cells: int) -> Filled:
    """The values by name where any name stands in the response, else in order."""
    segments = _segments(lines, names)
    if segments:
        return _by_name(lines, segments, names)
    found = [v for v in values_in([_GAPS.sub(", ", _row_of_numbers(line, cells)) for line in lines])[0] if not v.withdrawn]
    written = frozenset(n for n, text in enumerate(lines, start=1) if re.search(r"\w", text))
    unread = written - {v.line for v in found}
    if len(found) == cells:
        return Filled(cells={i: (v,) for i, v in enumerate(found)}, unread=unread)
    if not found:
        return Filled(doubt="no value could be read" if written else "", unread=unread)
    if len(found) < cells and not unread:
        return Filled(doubt=f"{_count(len(found))} for {cells} cells, without names", unread=unread)
    return Filled(doubt=f"{_count(len(found))} for {cells} cells", unread=unread)


def _row_of_numbers(line: str, cells: int) -> str:
    """`30 60 90` for three cells: bare numbers with spaces between, as many as there are cells."""
    words = line.split()
    return ", ".join(words) if len(words) == cells > 1 and all(_BARE.fullmatch(w) for w in words) else line


def _count(values: int) -> str:
    return "1 value is given" if values == 1 else f"{values} values are given"


def _by_name(lines: Sequence[str], segments: list[_Segment], names: Names) -> Filled:
    found: dict[int, list[Typed]] = {}
    read: set[int] = set()
    back: set[int] = set()
    for segment in segments:
        values, _ = values_in([segment.text])
        shift = segment.offset
        values = tuple(replace(v, line=segment.line, at=(v.at[0] + shift, v.at[1] + shift)) for v in values)
        kept = [v for v in values if not v.withdrawn]
        if values:
            read.add(segment.line)
        if _changed(lines, segment) and found.get(segment.cell) and kept:
            back |= {v.line for v in found[segment.cell]} - {segment.line}
            found[segment.cell] = []
        if kept:
            # in "R = 2.4/0.5 = 4.8" the statement's own last side counts; of several statements, all are offered
            found.setdefault(segment.cell, []).extend(kept)
    unread = frozenset(s.line for s in segments if re.search(r"\w", s.text)) - read
    return Filled(cells={c: tuple(v) for c, v in found.items()}, taken_back=frozenset(back), unread=unread)


def _changed(lines: Sequence[str], segment: _Segment) -> bool:
    """True where words of a change of mind stand on the line before the name."""
    before = {t.text for t in tokens((lines[segment.line - 1][: segment.offset],))}
    words = choice_words()
    return bool(before & (words["second_thoughts"] | words["withdrawals"] | {"no"}))


def _segments(lines: Sequence[str], names: Names) -> list[_Segment]:
    """The text after each name, up to the next name on the line."""
    out: list[_Segment] = []
    for number, line in enumerate(lines, start=1):
        places = _places(line, names)
        for index, (cell, _, end) in enumerate(places):
            stop = places[index + 1][1] if index + 1 < len(places) else len(line)
            text = line[end:stop].rstrip(" ,;|\t")
            lead = _LEADING.match(text)
            skip = lead.end() if lead else 0
            out.append(_Segment(cell=cell, line=number, text=text[skip:], offset=end + skip))
    return out


def _places(line: str, names: Names) -> list[tuple[int, int, int]]:
    """(cell, start, end) of each name in a line, longest names first, none inside another; a name after a value of its own is a value."""
    row = tokens((line,))
    texts = [t.text for t in row]
    taken: set[int] = set()
    found: list[tuple[int, int, int]] = []
    wanted = sorted(((phrase, cell) for cell, phrases in names.items() for phrase in phrases), key=lambda item: -len(item[0]))
    for phrase, cell in wanted:
        for at in range(len(texts) - len(phrase) + 1):
            place = set(range(at, at + len(phrase)))
            if tuple(texts[at : at + len(phrase)]) != phrase or place & taken or not _opens(texts, at, phrase):
                continue
            taken |= place
            found.append((cell, row[at].start, row[at + len(phrase) - 1].end))
    return sorted(found, key=lambda item: item[1])


def _opens(texts: Sequence[str], at: int, phrase: tuple[str, ...]) -> bool:
    """A name made of a number must open the line or follow a separator, and be followed by something."""
    numeric = phrase[0][0].isdecimal()
    if not numeric and len("".join(phrase)) > 2:
        return True
    free = at == 0 or texts[at - 1] in (";", "|", ",", "no", "wait", "sorry", "row", "at", "for", "when")
    return free and at + len(phrase) < len(texts)
