"""What was found about one key idea, and the sentences that say so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.kinds.written.model import Item, Prose
from marker.results import Outcome


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What was found about one idea. `earned` is the proposal when the outcome is REFERRED.

    code  "settled", "blank", "said", "not enough", "contradicted", "doubtful", "spelling", "unsure", "not said" or "overlong"
    likelihood  probability that a marker would give it;  contradiction  whether it says the contrary rather than nothing of the kind
    complete    no word of the wording that is said is missing
    told        places of the words that say it
    accounts    concepts of the wording that decided: a clause with no others has been used up
    """

    outcome: Outcome
    earned: bool
    code: str
    reason: str
    lines: tuple[int, ...] = ()
    words: str = ""
    likelihood: float = 0.0
    contradiction: bool = False
    accounts: frozenset[str] = frozenset()
    segments: frozenset[int] = frozenset()
    complete: bool = True
    told: frozenset[tuple[int, tuple[int, int]]] = frozenset()


def earned(code: str, reason: str, lines: Sequence[int] = (), words: str = "", likely: float = 1.0) -> Finding:
    return _finding(Outcome.EARNED, True, code, reason, lines, words, likely)


def not_earned(code: str, reason: str, lines: Sequence[int] = (), words: str = "", likely: float = 0.0) -> Finding:
    return _finding(Outcome.NOT_EARNED, False, code, reason, lines, words, likely)


def ask(proposed: bool, code: str, reason: str, lines: Sequence[int] = (), words: str = "", likely: float = 0.0) -> Finding:
    """For a person to decide, with what is proposed meanwhile."""
    return _finding(Outcome.REFERRED, proposed, code, reason, lines, words, likely)


def _finding(outcome: Outcome, is_earned: bool, code: str, reason: str, lines: Sequence[int], words: str, likely: float) -> Finding:
    where = tuple(sorted(set(lines)))
    return Finding(outcome=outcome, earned=is_earned, code=code, reason=reason, lines=where, words=words, likelihood=likely)


def line_numbers(items: Sequence[Item]) -> tuple[int, ...]:
    return tuple(sorted({i.line for i in items}))


def place(lines: Sequence[int]) -> str:
    """ "Line 2:" or "Lines 1 and 2:"."""
    if not lines:
        return "In the response:"
    return f"Line {lines[0]}:" if len(lines) == 1 else "Lines " + " and ".join(map(str, lines)) + ":"


def at(items: Sequence[Item], prose: Prose) -> str:
    """Place and words: Line 2: “directly proportional”."""
    return f"{place(line_numbers(items))} “{prose.quote(items)}”"
