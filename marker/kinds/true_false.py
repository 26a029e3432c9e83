"""kind = "true or false": a statement called true or false, and a false one put right with the word that should stand there."""

import tomllib
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

from pydantic import Field

from marker.kinds.base import Carried, Kind, PartSpec
from marker.kinds.short import Judged, capital, fault, refuse, result_of, where
from marker.kinds.true_false_reading import CompiledTruth, Said, plain_phrase, read_truth, truth_words
from marker.kinds.words import in_words, is_blank, line_reports, too_long
from marker.resources import rubrics
from marker.results import FaultFound, LineReport, PartResult
from marker.scheme.convention import Convention

Points = Literal["all", "each"]


class TrueFalseSpec(PartSpec):
    """Keys of kind = "true or false".

    statement  as the candidate reads it;  answer  whether it is true
    replaced   the wrong word or words of a false statement;  correction  words accepted in their place, any one of them;
               without a correction, "false" alone is the answer
    refused    further words that cannot stand in their place
    points     "all": verdict and correction together for the marks; "each": a share each. Default: "each" for two marks, else "all"
    """

    kind: Literal["true or false"] = "true or false"
    statement: str = Field(min_length=1)
    answer: bool
    replaced: str = ""
    correction: list[str] = Field(default_factory=list)
    refused: list[str] = Field(default_factory=list)
    points: Points | None = None


@lru_cache(maxsize=1)
def _colliding() -> tuple[frozenset[str], ...]:
    """Sets of terms that must not be taken for one another (rubrics/words.toml)."""
    table = tomllib.loads((rubrics() / "words.toml").read_text(encoding="utf-8"))
    return tuple(frozenset(words) for words in table["collision"]["sets"])


def compile_true_false(spec: TrueFalseSpec, convention: Convention) -> CompiledTruth:
    """Raises SchemeError with the key and the mend."""
    convention = convention.with_rulings(spec.rulings)
    if spec.answer and spec.correction:
        refuse(spec, "correction", "a correction of a true statement", "answer = false", "Remove correction, or set answer = false.")
    if not spec.answer and spec.replaced and not spec.correction:
        refuse(spec, "correction", "words to replace and none to put there", "one or more words", 'Add correction = ["…"].')
    each = bool(spec.correction) and (spec.points == "each" or (spec.points is None and spec.marks == 2))
    share = spec.marks / 2
    if each and share != int(share) and not convention.half_marks:
        refuse(spec, "points", f"{spec.marks} marks for verdict and correction", "an even number", 'Change marks, or use points = "all".')
    correction = tuple(plain_phrase(c) for c in spec.correction)
    refused = tuple(p for p in (plain_phrase(r) for r in (spec.replaced, *spec.refused)) if p)
    if any(not c or c in refused for c in correction):
        refuse(spec, "correction", "a correction that is empty or also refused", "words that are right", "Reword it.")
    own = frozenset(w for phrase in (*correction, *refused) for w in phrase)
    near = frozenset(w for group in _colliding() if group & own for w in group)
    refused += tuple((word,) for word in sorted(near - own))
    return CompiledTruth(
        name=spec.name,
        marks=spec.marks,
        answer=spec.answer,
        statement=plain_phrase(spec.statement),
        correction=correction,
        refused=refused,
        first_correction=spec.correction[0] if spec.correction else "",
        each=each,
        vocabulary=frozenset(w for w in own | {"true", "false"} if len(w) >= 4) | near,
        real=near | truth_words()["true"] | truth_words()["false"] | truth_words()["plain"],
        convention=convention,
    )


def mark_true_false(part: CompiledTruth, lines: Sequence[str], carried: Carried) -> PartResult:
    """Marks the verdict and, for a false statement, the correction. Nothing is carried into it."""
    said = Said() if is_blank(lines) else read_truth(part, lines)
    verdict = _judge_verdict(part, said, lines)
    if not part.correction:
        points = [_point(part, "verdict", float(part.marks), verdict, said)]
    elif part.each:
        half = part.marks / 2
        points = [
            _point(part, "verdict", half, verdict, said),
            _point(part, "correction", half, _judge_correction(part, said, lines), said),
        ]
    else:
        points = [_point(part, "verdict and correction", float(part.marks), _both(verdict, _judge_correction(part, said, lines)), said)]
    return result_of(part.name, part.marks, points, _reports(part, lines, said, points))


Judgement = tuple[bool | None, str, tuple[int, ...], str]
"""Right, wrong or None for what a person must decide; why; the lines; the doubt."""


def _judge_verdict(part: CompiledTruth, said: Said, lines: Sequence[str]) -> Judgement:
    values = {value for value, _ in said.verdicts}
    numbers = tuple(sorted({n for _, n in said.verdicts}))
    word = "true" if part.answer else "false"
    if not values:
        if said.right and not part.answer:
            return _open(f"“{said.right[0][0]}” puts the statement right, and it is not called false", (said.right[0][1],))
        if said.others or too_long(lines):
            return _open("neither true nor false could be made out", ())
        return False, "it is not said whether the statement is true or false", (), ""
    if len(values) > 1:
        ruling = part.convention.two_answers
        counted = said.verdicts[0][0] if ruling == "first" else said.verdicts[-1][0]
        right = True if ruling == "best" else counted == part.answer if ruling in ("first", "last") else False
        return right, "the statement is called both true and false", numbers, ""
    right = values == {part.answer}
    said_word = "true" if right == part.answer else "false"
    return right, f"“{said_word}” is {'right' if right else f'not right; the statement is {word}'}", numbers, ""


def _judge_correction(part: CompiledTruth, said: Said, lines: Sequence[str]) -> Judgement:
    accepted = in_words([f"“{c}”" for c in dict.fromkeys(c for c, _ in said.right)])
    numbers = tuple(sorted({n for _, n in (*said.right, *said.wrong)}))
    if said.right and said.wrong:
        return _open(f"{accepted} and “{said.wrong[0][0]}” are both there", numbers)
    if said.right:
        return True, f"{accepted} puts it right", numbers, ""
    if said.wrong:
        return False, f"“{said.wrong[0][0]}” does not put it right; “{part.first_correction}” does", numbers, ""
    if said.others:
        return _open(f"“{' '.join(said.others[:6])}” is none of the corrections the scheme names", ())
    return False, f"no correction is given; “{part.first_correction}” puts it right", (), ""


def _both(verdict: Judgement, correction: Judgement) -> Judgement:
    """Both wanted for the mark. A wrong one settles it."""
    reason = f"{verdict[1]}; {correction[1]}"
    numbers = tuple(sorted({*verdict[2], *correction[2]}))
    if verdict[0] is False:
        return verdict
    if correction[0] is False:
        return False, reason, numbers, ""
    doubt = verdict[3] or correction[3]
    return None if doubt else True, reason, numbers, doubt


def _open(why: str, numbers: tuple[int, ...]) -> Judgement:
    return None, why, numbers, why


def _point(part: CompiledTruth, point: str, worth: float, judgement: Judgement, said: Said) -> Judged:
    right, why, numbers, doubt = judgement
    return Judged(
        point=point,
        kind="true or false",
        maximum=worth,
        marks={0.0: "not accepted", worth: "accepted"} if right is None else worth * right,
        reason=f"{where(numbers)}{why if numbers else capital(why)}.",
        lines=numbers,
        doubt=doubt,
        faults=_faults(part, point, right, said),
    )


def _faults(part: CompiledTruth, point: str, right: bool | None, said: Said) -> tuple[FaultFound, ...]:
    values = {value for value, _ in said.verdicts}
    if right is not False or len(values) != 1:
        return ()
    line = said.verdicts[0][1]
    if point != "correction" and values != {part.answer}:
        return (fault("truth-wrong", line, truth="true" if part.answer else "false"),)
    return (fault("correction-missing", line),) if point != "verdict" and not said.wrong and values == {part.answer} else ()


def _reports(part: CompiledTruth, lines: Sequence[str], said: Said, points: Sequence[Judged]) -> tuple[LineReport, ...]:
    verdicts: dict[int, tuple[str, str, tuple[str, ...]]] = {}
    for value, number in said.verdicts:
        verdicts[number] = ("right" if value == part.answer else "wrong", "", ("true" if value else "false",))
    for found, verdict in ((said.right, "right"), (said.wrong, "wrong")):
        for text, number in found:
            before = verdicts.get(number, (verdict, "", ()))
            verdicts[number] = ("wrong" if "wrong" in (before[0], verdict) else "right", "", (*before[2], text))
    open_ones = any(p.doubt for p in points)
    unread = frozenset(n for n, text in enumerate(lines, start=1) if text.strip() and open_ones and n not in verdicts)
    return line_reports(lines, verdicts, unread)


def model_true_false(part: CompiledTruth) -> tuple[str, ...]:
    """ "True", or "False" with the first correction."""
    if part.answer:
        return ("True",)
    return ("False", part.first_correction) if part.first_correction else ("False",)


KIND = Kind(name="true or false", spec=TrueFalseSpec, compile=compile_true_false, mark=mark_true_false, model=model_true_false)
