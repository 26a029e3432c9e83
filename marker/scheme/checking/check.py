"""Proving a scheme before a class is marked with it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from marker.errors import Problem
from marker.kinds.uncertainty.compiled import UncertaintyPart
from marker.kinds.uncertainty.wording import asked_in_the_stem, combining_in_words
from marker.scheme.calculation import CalculationPart
from marker.scheme.checking.calculation import calculation_trials
from marker.scheme.checking.model import Came, PartProof, Proof, Remark, Trial, Weight
from marker.scheme.checking.other_kinds import other_trials
from marker.scheme.checking.remarks import remarks_on
from marker.scheme.checking.rulings import rulings_in_sentences
from marker.scheme.checking.solution import value_line
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.paper import CompiledPart, Paper, load_scheme

_SEVERAL = frozenset({"written", "direction", "true or false", "table"})  # kinds whose model answer has no one last line
ROUNDINGS = frozenset({"rounded-early", "rounded-to-one-figure"})  # what is rounded may well come out right all the same
MODEL, FEWEST = "model answer", "in as few figures as the data"


def check_scheme(path: Path | str, convention: Path | str | None = None) -> Proof:
    """Reads a scheme file and proves it. Raises SchemeError when it cannot be read at all."""
    return check_paper(load_scheme(path, convention))


def check_paper(paper: Paper) -> Proof:
    """A compiled paper proved part by part: remarks on how it is set, and trials with made-up responses."""
    return Proof(
        title=paper.title,
        source=paper.source,
        convention=paper.convention.name,
        maximum=paper.maximum,
        parts=tuple(check_part(p, paper.source) for p in paper.parts),
        rulings=rulings_in_sentences(paper.convention),
    )


def check_part(part: CompiledPart, source: str = "") -> PartProof:
    """One part proved."""
    where = f"{source}, part {part.name}" if source else f"part {part.name}"
    made = part.compiled
    remarks: list[Remark] = []
    if isinstance(made, CompiledCalculation) and isinstance(part.spec, CalculationPart):
        remarks.extend(remarks_on(part.spec, made, where))
        trials = calculation_trials(part)
    else:
        trials = tuple(other_trials(part))
    remarks.extend(_from_trials(part, trials, where))
    notes: tuple[str, ...] = ()
    if isinstance(made, UncertaintyPart):
        notes = (combining_in_words(made),)
        remarks.extend(_combining(made, where))
    return PartProof(
        part=part.name,
        kind=part.spec.kind,
        marks=part.marks,
        answer=_answer(part),
        remarks=tuple(sorted(remarks, key=lambda r: not r.fails)),
        trials=trials,
        notes=notes,
    )


def _combining(made: UncertaintyPart, where: str) -> list[Remark]:
    """The question names one way of combining uncertainties, and the ruling another."""
    asked = asked_in_the_stem(made.spec.stem)
    if asked is None or asked == made.rule or len(made.components) < 2:
        return []
    seen = f"the question seems to ask for the rule {asked!r}, and the ruling uncertainty_rule is {made.rule!r}"
    mend = f'If the question means it, write rulings = {{ uncertainty_rule = "{asked}" }} in this part or under [paper].'
    return [Remark(weight=Weight.ADVICE, problem=Problem(where=f"{where}, rulings", seen=seen, mend=mend))]


def _answer(part: CompiledPart) -> str:
    made = part.compiled
    if not isinstance(made, CompiledCalculation):
        model = part.kind.model(made)
        return part.kind.answer(made) or ("; ".join(model) if part.spec.kind in _SEVERAL else next(reversed(model), ""))
    from marker.reading import write_plain

    said = [value_line(made, g.find, g.value, i) for i, g in enumerate(made.goals)]
    return "; ".join(" = ".join(write_plain(s) for s in line.sides) for line in said)


def _from_trials(part: CompiledPart, trials: tuple[Trial, ...], where: str) -> list[Remark]:
    """What the trials say about the scheme, in words: points out of reach, typings not understood, faults that do not show."""
    models = [t for t in trials if t.what.startswith(MODEL)]
    out: list[Remark] = []
    unreached = set(models[0].lost).intersection(*(t.lost for t in models)) if models else set()
    for point in sorted(unreached):
        out.append(
            _fails(where, f"no model answer earns the point {point!r}", "Check what the point is for, its needs and its accepted range.")
        )
    for trial in models:
        if trial.came is Came.REFERRED:
            seen = f"the {trial.what} would be referred to you: {_first_lost(trial)}"
            out.append(_fails(where, seen, _mend(trial, models)))
        elif trial.fails and not (trial.lost and set(trial.lost) <= unreached):
            seen = f"the {trial.what} earns {trial.mark:g} of {trial.maximum:g}: {_first_lost(trial)}"
            out.append(_fails(where, seen, _mend(trial, models)))
    for trial in trials:
        if trial.fails and trial not in models:
            out.append(
                _fails(
                    where,
                    f"{trial.what}: earns {trial.mark:g} of {trial.maximum:g} where the convention gives {trial.expected:g}",
                    "Write the part's points out, with their types, under points.",
                )
            )
        elif trial.code and trial.mark == trial.maximum and trial.expected < trial.maximum and trial.came is Came.DIFFERS:
            seen = f"this mistake is not noticed and would earn full marks: {trial.what}, in lines such as {' / '.join(trial.lines[-2:])!r}"
            mend = "Look through full marks with working like this; the scheme need not be changed."
            problem = Problem(where=where, seen=seen, mend=mend)
            out.append(Remark(weight=Weight.ADVICE, problem=problem))
    for trial in trials:
        if trial.what.endswith(FEWEST) and trial.mark < trial.maximum:
            seen = f"{trial.what}, earns {trial.mark:g} of {trial.maximum:g}: it lies outside the accepted range"
            problem = Problem(where=f"{where}, accept", seen=seen, mend="Widen the range if that answer should earn the mark.")
            out.append(Remark(weight=Weight.ADVICE, problem=problem))
    hidden = [t.what for t in trials if t.came is Came.HIDDEN and t.code not in ROUNDINGS]
    if hidden:
        out.append(
            Remark(
                weight=Weight.ADVICE,
                problem=Problem(
                    where=where,
                    seen=f"with these data the answer is accepted all the same after: {'; '.join(hidden)}",
                    mend="Change a datum, or narrow the accepted range, if an answer alone should show it.",
                ),
            )
        )
    return out


def _fails(where: str, seen: str, mend: str) -> Remark:
    return Remark(weight=Weight.FAILS, problem=Problem(where=where, seen=seen, mend=mend))


def _first_lost(trial: Trial) -> str:
    typed = repr(" / ".join(trial.lines))
    return f"{', '.join(repr(p) for p in trial.lost)} not earned by {typed}" if trial.lost else f"typed as {typed}"


def _mend(trial: Trial, models: Sequence[Trial]) -> str:
    """Only a model answer that is understood as it stands and not in another way of typing has letters to blame."""
    if trial is not models[0] and models[0].came is Came.AS_RULED:
        return "See how the lines are read with `marker read`: a letter taken for a unit or for another letter needs another letter."
    return "Correct the relationships, the accepted range or the points."
