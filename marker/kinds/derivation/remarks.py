"""What is said of each line of a derivation."""

from __future__ import annotations

from marker.kinds.derivation.compiled import CompiledDerivation
from marker.kinds.derivation.course import Stage, Standing
from marker.kinds.words import in_words

_VERDICTS = {
    Standing.START: "right",
    Standing.TOGETHER: "right",
    Standing.FOLLOWS: "right",
    Standing.LEAP: "right",
    Standing.TARGET: "right",
    Standing.ASSUMED: "unused",
    Standing.WRONG: "wrong",
    Standing.FROM_WRONG: "follows",
    Standing.NUMBERS: "unused",
    Standing.OPEN: "unread",
}
_NOTES = {
    Standing.ASSUMED: "rests on the target itself, or on a relationship not stated before it",
    Standing.FROM_WRONG: "follows from a line that is wrong",
    Standing.NUMBERS: "numbers show it for one case only",
    Standing.OPEN: "holds a letter that is not known here",
    Standing.WRONG: "does not follow from the relationships",
    Standing.TARGET: "the target",
    Standing.FOLLOWS: "follows from the lines before it",
}


def verdict_of(stage: Stage) -> str:
    """The verdict of results.LineReport."""
    return _VERDICTS[stage.standing]


def note_on(part: CompiledDerivation, stage: Stage) -> str:
    """A clause on why the line stands as it does."""
    said = _NOTES.get(stage.standing)
    if said is not None:
        return said
    named = in_words([part.start(i) for i in sorted(stage.said.relations)])
    return {Standing.START: f"states {named}", Standing.TOGETHER: f"puts {named} together"}.get(stage.standing, f"rests on {named}")
