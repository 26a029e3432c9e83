"""How a derivation ends: the target reached, assumed, worked back from, or reached from a wrong line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.awarding.wording import quoted
from marker.kinds.derivation.compiled import CompiledDerivation
from marker.kinds.derivation.course import RIGHT, Stage, Standing
from marker.kinds.words import in_words

_BAD = frozenset({Standing.WRONG, Standing.FROM_WRONG})


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """Whether the target is reached, and why as a teacher would write it.

    doubt   why a person should decide;  gap  nothing stands between the starts and the target
    closed  the way it ends settles the target's point whatever else could not be read
    backwards  the relationships are only come to from the target
    """

    reached: bool
    why: str
    lines: tuple[int, ...] = ()
    doubt: str = ""
    gap: bool = False
    closed: bool = False
    backwards: bool = False


def ending_of(part: CompiledDerivation, stages: Sequence[Stage]) -> Ending:
    """The target counts where all it rests on stands before it and no wrong line leads to it."""
    reached = [i for i, s in enumerate(stages) if s.standing is Standing.TARGET]
    if reached:
        return _reached(part, stages, reached[-1])
    assumed = [s for s in stages if s.standing is Standing.ASSUMED]
    if assumed:
        return _assumed(part, stages, assumed)
    if any(s.standing in _BAD for s in stages):
        first = next(s for s in stages if s.standing in _BAD)
        return Ending(reached=False, why=f"{quoted(first.said.text)} does not follow, and the target is not reached", lines=(first.line,))
    if any(s.standing is Standing.NUMBERS for s in stages):
        return Ending(reached=False, why="the target is to be shown in letters, for any values")
    close = [s for s in stages if s.standing is Standing.FOLLOWS and part.from_target.support(s.said.equation)]
    if close and not part.convention.show_final_line:
        return Ending(reached=True, why="the target is a step away from the last line", lines=(close[-1].line,))
    return Ending(reached=False, why=f"{part.target} is not written at the end" if close else "the target is not reached")


def _reached(part: CompiledDerivation, stages: Sequence[Stage], at: int) -> Ending:
    before = [s for s in stages[:at] if s.standing in RIGHT or s.standing in _BAD]
    stage = stages[at]
    after = [s for s in stages[at + 1 :] if s.standing in _BAD]
    if after and part.convention.later_work == "counts":
        text = quoted(after[-1].said.text)
        return Ending(reached=False, why=f"{text} after it contradicts the target", lines=(stage.line, after[-1].line))
    lines = (stage.line,)
    if before and before[-1].standing in _BAD:
        return _from_wrong(part, before[-1], lines)
    gap = len(part.needed) > 1 and not part.at_one_go and not any(_between(part, s) for s in before)
    leap = next((s for s in before if s.standing is Standing.LEAP), None)
    doubt = "" if leap is None else f"{quoted(leap.said.text)} is written without what it rests on"
    if stage.said.loose:
        doubt = f"{quoted(stage.said.text)} is the target only with brackets that were not typed"
    return Ending(reached=True, why="the target follows from the lines before it", lines=lines, gap=gap, doubt=doubt)


def _between(part: CompiledDerivation, stage: Stage) -> bool:
    return stage.standing is not Standing.START and len(stage.said.relations) > 1


def _from_wrong(part: CompiledDerivation, wrong: Stage, lines: tuple[int, ...]) -> Ending:
    why = f"the target does not follow from {quoted(wrong.said.text)} in line {wrong.line}"
    ruling = part.convention.right_from_wrong
    return Ending(reached=ruling != "nothing", why=why, lines=lines, doubt=why if ruling == "refer" else "", closed=True)


def _assumed(part: CompiledDerivation, stages: Sequence[Stage], assumed: Sequence[Stage]) -> Ending:
    """The target stands before what it rests on: restated, or worked back from."""
    known = stages[-1].known
    lines = tuple(s.line for s in assumed)
    if part.needed <= known and not any(s.standing in _BAD for s in stages):
        if part.convention.show_reverse:
            return Ending(reached=True, why="worked back from the target to the relationships, which is allowed", lines=lines)
        backwards = _is_backwards(stages)
        why = "worked back from the target" if backwards else "the target stands before what it rests on"
        return Ending(
            reached=False, why=f"{why}; it is to be reached from the relationships", lines=lines, closed=True, backwards=backwards
        )
    if not known:
        return Ending(reached=False, why="the target is only stated again", lines=lines)
    missing = in_words([part.start(i) for i in sorted(part.needed - known)])
    why = f"{quoted(assumed[-1].said.text)} does not follow from what stands before it: {missing} is not stated"
    return Ending(reached=False, why=why, lines=lines)


def _is_backwards(stages: Sequence[Stage]) -> bool:
    """The target stands first, and what comes after it is worked out of it rather than begun anew."""
    right = [s for s in stages if s.standing in RIGHT or s.standing is Standing.ASSUMED]
    first = next((s for s in right[1:] if s.standing in RIGHT), None)
    begun_anew = right[1].plain if len(right) > 1 else False
    return right[0].standing is Standing.ASSUMED and first is not None and not begun_anew
