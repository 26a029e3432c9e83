"""What reading hands on: lines, their statements, and the readings of each.

A line that cannot be read is a value too: it comes back with `unread` fragments and no statement.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import overload

from marker.expression import Expr, Hashed, Place, hashed_once
from marker.frozen import frozen


@dataclass(frozen=True, slots=True, kw_only=True)
class SymbolEntry:
    """One quantity of the part. `name` is canonical; `spellings` are other letters for it; `names` are words for it.

    unit    text of its usual unit ("m/s"), "" when it has none; `angle` is True for an angle.
    constant    True for a constant of nature or the data sheet, such as g or c.
    """

    name: str
    spellings: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    unit: str = ""
    angle: bool = False
    constant: bool = False


@hashed_once
@dataclass(frozen=True, slots=True)
class SymbolTable(Hashed):
    """The letters and names a line may use. Hashable: it is a key of the reading memo. `()` reads without a part."""

    entries: tuple[SymbolEntry, ...] = ()


@hashed_once
@frozen
class Assumption(Hashed):
    """A choice a reading makes beyond the plainest one. `code` is stable, `text` is a phrase for a teacher."""

    code: str
    text: str
    at: Place = None


@hashed_once
@frozen
class Reading(Hashed):
    """One way to understand a statement.

    sides       expressions in order; one side alone is a bare expression or value
    relations   signs between neighbours: "=", "≈", "<", ">", "≤", "≥", "∝"; one fewer than the sides
    opens       True when the text began with "=" (or ≈): it continues what came before
    opening     the sign it began with, "" when it did not
    unfinished  True when nothing follows the last "=", or a question mark does ("v = ?")
    cost        0 for the plainest reading; readings come in rising cost
    """

    sides: tuple[Expr, ...]
    relations: tuple[str, ...] = ()
    opens: bool = False
    unfinished: bool = False
    cost: float = 0.0
    assumptions: tuple[Assumption, ...] = ()
    opening: str = ""


class Readings(Sequence[Reading]):
    """Readings of one statement in rising cost. The plainest is there at once, the others are made when they are asked for."""

    __slots__ = ("_everything", "_made")

    def __init__(self, made: Iterable[Reading], everything: Callable[[], Iterable[Reading]] | None = None) -> None:
        self._made = list(made)
        self._everything = everything

    def _all(self) -> list[Reading]:
        if self._everything is not None:
            first = self._made[0]
            rest = [r for r in self._everything() if r != first]
            self._made, self._everything = [first, *rest], None
        return self._made

    @overload
    def __getitem__(self, index: int) -> Reading: ...

    @overload
    def __getitem__(self, index: slice) -> Sequence[Reading]: ...

    def __getitem__(self, index: int | slice) -> Reading | Sequence[Reading]:
        if index == 0:
            return self._made[0]
        return tuple(self._all()[index]) if isinstance(index, slice) else self._all()[index]

    def __len__(self) -> int:
        return len(self._all())

    def __bool__(self) -> bool:
        return bool(self._made)

    def __iter__(self) -> Iterator[Reading]:
        yield self._made[0]
        yield from self._all()[1:]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and tuple(self._all()) == tuple(other)

    def __hash__(self) -> int:
        return hash(self._made[0])

    def __repr__(self) -> str:
        return f"Readings({self._all()!r})"

    def __reduce__(self) -> tuple[type[Readings], tuple[list[Reading]]]:
        return (Readings, (self._all(),))


@frozen
class Statement:
    """A relation, a value or a bare expression found in a line.

    line        number of the line, from 1; `at` its place in that line's text, columns from 0
    readings    plainest first, never empty
    before      words just before it in the same line that were not read as mathematics ("so the current is")
    label       "(i)", "b)" or the like that introduces it, normalised to "i", "b"; "" when none
    withdrawn   crossed out by the candidate, in words or by ~~marks~~
    alternative offered as another answer ("or …")
    final       labelled as the answer ("Ans:", "final answer")
    tentative   from prose, where words were passed over to read it
    """

    line: int
    at: tuple[int, int]
    text: str
    readings: Sequence[Reading]
    before: str = ""
    label: str = ""
    withdrawn: bool = False
    alternative: bool = False
    final: bool = False
    tentative: bool = False


@frozen
class Fragment:
    """A piece of a line that looked like mathematics and could not be read, and why."""

    at: tuple[int, int]
    text: str
    why: str


@frozen
class Line:
    """One typed line. A remark has neither statements nor unread fragments. `words` is its prose in lower case.

    points  pairs of numbers in brackets, (20, 7.4), as read off a graph, in order
    """

    number: int
    text: str
    statements: tuple[Statement, ...] = ()
    unread: tuple[Fragment, ...] = ()
    words: str = ""
    withdrawn: bool = False
    points: tuple[tuple[float, float], ...] = ()
