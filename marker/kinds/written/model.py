"""What reading a written answer gives: sentences, clauses and the ideas mentioned in them, each with its sign and place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto

_BESIDE = 12
_LONGEST_QUOTE = 90


class Role(Enum):
    """What an item of a clause does. MENTION names an idea, LABEL a particular thing (bulb A, terminal 3, 1.5)."""

    MENTION = auto()
    LABEL = auto()
    ADVERB = auto()
    ARTICLE = auto()
    PREDICATE = auto()
    SIGN = auto()
    FUNCTION = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One word or phrase of a clause.

    stems    its words, mended and without endings
    concept  what it stands for, such as "voltage"; the stem itself for other words;  sign  -1 when the answer denies it
    typed    as the candidate wrote it;  line from 1;  at  columns from 0
    of       for a word of change, the quantity that changes; "" when it is not named
    side     "from", "to", or "before", "after" a comparison; "" elsewhere
    mended   its spelling was put right;  rivals  terms between which its spelling leaves the choice open
    """

    role: Role
    concept: str
    stems: str
    typed: str
    line: int
    at: tuple[int, int]
    sign: int = 1
    of: str = ""
    side: str = ""
    existence: bool = False
    known: bool = True
    mended: bool = False
    rivals: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Clause:
    """Items in the order typed. `link` is "forward" when it opens with so, therefore, "backward" with because, else ""."""

    items: tuple[Item, ...]
    sentence: int
    link: str = ""
    hedged: bool = False

    @property
    def mentions(self) -> tuple[Item, ...]:
        return tuple(i for i in self.items if i.role in (Role.MENTION, Role.LABEL))


@dataclass(frozen=True, slots=True, kw_only=True)
class Prose:
    """A response as read, with its lines as typed.

    blank  it says nothing ("I do not know");  withdrawn  how many words the candidate took back;  overlong  more than is read
    """

    clauses: tuple[Clause, ...]
    lines: tuple[str, ...] = ()
    blank: bool = False
    withdrawn: int = 0
    overlong: bool = False

    def mentions(self) -> Iterator[Item]:
        for clause in self.clauses:
            yield from clause.mentions

    def quote(self, items: Sequence[Item]) -> str:
        """The candidate's own words for some ideas: from the first to the last in each line, with a denial just before or after."""
        pieces = []
        for number in sorted({i.line for i in items}):
            here = [i.at for i in items if i.line == number]
            start, end = min(a for a, _ in here), max(b for _, b in here)
            for clause in self.clauses:
                for item in clause.items:
                    if item.line != number:
                        continue
                    if item.role in (Role.ADVERB, Role.ARTICLE) and 0 <= start - item.at[1] <= _BESIDE:
                        start = item.at[0]
                    elif item.role is Role.PREDICATE and 0 <= item.at[0] - end <= _BESIDE:
                        end = item.at[1]
            text = self.lines[number - 1][start:end] if 0 < number <= len(self.lines) else ""
            pieces.append(text if len(text) <= _LONGEST_QUOTE else " … ".join(dict.fromkeys(i.typed for i in items if i.line == number)))
        return " … ".join(pieces)

    @property
    def rivals(self) -> tuple[Item, ...]:
        return tuple(i for i in self.mentions() if i.rivals)

    @property
    def sentences(self) -> tuple[tuple[Clause, ...], ...]:
        numbers = sorted({c.sentence for c in self.clauses})
        return tuple(tuple(c for c in self.clauses if c.sentence == n) for n in numbers)
