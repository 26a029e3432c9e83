"""A derivation made ready for marking: its target in every accepted form, what its starts make together, its points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from marker.errors import Problem, SchemeError
from marker.expression import Number, Power, Product, Quotient, Root
from marker.kinds.algebra import in_letters
from marker.kinds.algebra.shape import Places, free_places
from marker.kinds.derivation.forms import Form, form_like, forms_of
from marker.kinds.derivation.spec import DerivationSpec, PointSpec
from marker.physics.system import Equation, Relation, System
from marker.reading.model import SymbolEntry, SymbolTable
from marker.scheme.compiled import CompiledCalculation
from marker.scheme.convention import Convention
from marker.scheme.part_relations import first_letter, relation_of
from marker.scheme.surroundings import problem


@dataclass(frozen=True, slots=True, kw_only=True)
class DerivationPoint:
    """One marking point. `relations` the starts it asks for; `equation` the step it asks for, None for any."""

    name: str
    kind: str
    marks: float
    relations: frozenset[int]
    equation: Equation | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CompiledDerivation:
    """Everything the marking of a derivation needs.

    part      the part in letters, as judging wants it;  targets  the accepted forms of the target, `target` as written
    from_target  the target as the only relationship, to tell what is the target itself rearranged
    at_one_go  the target is one relationship put into another, so that nothing need stand between
    needed    indexes of the starts the target rests on;  places  values of the letters, bound by definitions alone
    """

    name: str
    marks: float
    part: CompiledCalculation
    target: str
    targets: tuple[Equation, ...]
    from_target: System
    needed: frozenset[int]
    at_one_go: bool
    forms: tuple[Form, ...]
    places: Places
    points: tuple[DerivationPoint, ...]
    convention: Convention
    model: tuple[str, ...]

    def start(self, index: int) -> str:
        """A starting relationship as a person writes it."""
        return self.part.system.relations[index].shown


def compile_derivation(spec: DerivationSpec, convention: Convention) -> CompiledDerivation:
    """Raises SchemeError with the key and the mend."""
    convention = convention.with_rulings(spec.rulings)
    where = f"part {spec.name}"
    part = in_letters(spec, _subject(spec, where), [spec.target, *spec.also_target], convention)
    table = SymbolTable(tuple(SymbolEntry(name=n) for n in part.system.base))
    target = relation_of(spec.target, table, where, "target")
    forms = [target, *(relation_of(t, table, where, "also_target") for t in spec.also_target)]
    for relation in forms:
        if not part.system.support(relation.equation):
            raise problem(
                where,
                "target",
                f"{relation.shown} does not follow from {'; '.join(spec.using)}",
                "a consequence of using",
                "Correct it, or add the relationship it needs.",
            )
    needed = (part.system.support(target.equation) or frozenset()) - part.helpers
    points = tuple(_point(p, i, part, needed, table, where) for i, p in enumerate(spec.points or _usual(len(needed), spec)))
    total = sum(p.marks for p in points)
    if total != spec.marks:
        raise problem(where, "marks", f"the points add up to {total:g}, the part is worth {spec.marks}", mend="Make them agree.")
    made = forms_of(part.system.relations, part.helpers)
    places = _bound_by_definitions(part)
    return CompiledDerivation(
        name=spec.name,
        marks=float(spec.marks),
        part=part,
        target=target.shown,
        targets=tuple(r.equation for r in forms),
        from_target=_alone(target, part),
        needed=needed,
        at_one_go=form_like(target.equation, made, places) is not None,
        forms=made,
        places=places,
        points=points,
        convention=convention,
        model=_model(part, needed, made, target),
    )


def _subject(spec: DerivationSpec, where: str) -> str:
    """The letter the target is about: the first that stands in it."""
    found = first_letter(spec.target)
    if not found or "=" not in spec.target:
        raise problem(where, "target", f"{spec.target!r} is no equation in letters", mend='Write it as "r = m*v/(B*q)".')
    return found


def _alone(target: Relation, part: CompiledCalculation) -> System:
    relations = [target, *(part.system.relations[i] for i in sorted(part.helpers))]
    base = part.system.base
    fixed = {n: d.si for n, d in part.data.items()}
    return System(relations=tuple(relations), data=fixed, base=base, steps=(), angles=part.angles)


def _bound_by_definitions(part: CompiledCalculation) -> Places:
    """Values that keep the definitions and nothing else, not even a special case."""
    rows = tuple(part.system.relations[i] for i in sorted(part.helpers))
    loose = System(relations=rows, data={}, base=part.system.base, steps=(), angles=part.angles)
    points = loose.points(loose.everything) if rows else None
    return points or free_places(frozenset(part.system.base))


# ---- points ------------------------------------------------------------------------------------------------------------


def _usual(starts: int, spec: DerivationSpec) -> Sequence[PointSpec]:
    """What a derivation of so many marks is usually given for."""
    each = [PointSpec(kind="start", of=t, name=f"states {t}") for t in spec.using]
    together, step, target = PointSpec(kind="start"), PointSpec(kind="step"), PointSpec(kind="target")
    patterns = {
        1: [target],
        2: [together, target],
        3: [together, step, target],
        starts + 1: [*each, target],
        starts + 2: [*each, step, target],
    }
    if spec.marks not in patterns or (spec.marks > 3 and starts != len(spec.using)):
        raise SchemeError(
            Problem(
                where=f"part {spec.name}, points",
                seen=f"{spec.marks} marks for {starts} starting relationship{'s' if starts != 1 else ''} fit no usual pattern",
                expected=f"{' or '.join(map(str, sorted(patterns)))} marks",
                mend='Write the points out: points = [{ kind = "start" }, { kind = "step", of = "…" }, { kind = "target" }].',
            )
        )
    return patterns[spec.marks]


def _point(
    spec: PointSpec, index: int, part: CompiledCalculation, needed: frozenset[int], table: SymbolTable, where: str
) -> DerivationPoint:
    key = f"points {index + 1}"
    equation, relations = None, needed
    if spec.kind == "step" and spec.texts:
        equation = relation_of(spec.texts[0], table, where, key).equation
        relations = (part.system.support(equation) or frozenset()) - part.helpers
        if not relations:
            raise problem(where, key, f"{spec.texts[0]!r} does not follow from using", "a step towards the target")
    elif spec.kind == "start" and spec.texts:
        relations = frozenset(_start(t, part, table, f"{where}, {key}") for t in spec.texts)
    usual = {"start": "starting point", "step": "a step on the way", "target": "target reached"}[spec.kind]
    return DerivationPoint(name=spec.name or usual, kind=spec.kind, marks=spec.marks, relations=relations, equation=equation)


def _start(text: str, part: CompiledCalculation, table: SymbolTable, where: str) -> int:
    wanted = relation_of(text, table, where, "of").equation
    for index, relation in enumerate(part.system.relations):
        if index not in part.helpers and relation.equation == wanted:
            return index
    shown = (part.system.support(wanted) or frozenset()) - part.helpers
    if len(shown) == 1:
        return next(iter(shown))
    raise problem(where, "of", f"{text!r} is not one of the starting relationships", "; ".join(r.shown for r in part.system.relations))


def _model(part: CompiledCalculation, needed: frozenset[int], forms: Sequence[Form], target: Relation) -> tuple[str, ...]:
    """The starts, the plainest equation that puts them together, the target."""
    from marker.reading.writing import write_plain

    starts = [part.system.relations[i].shown for i in sorted(needed)]
    whole = [f.equation for f in forms if f.relations - part.helpers == needed] if len(needed) > 1 else []
    if len(needed) == 1 and (before := _before(target)) is not None and form_like(before, forms, free_places(target.letters)) is None:
        whole = [before]
    written = [f"{write_plain(a)} = {write_plain(b)}" for a, b in whole]
    return (*starts, *sorted(written, key=len)[:1], target.shown)


def _before(target: Relation) -> Equation | None:
    """The step before a target solved for a letter: v² = 2E/m before v = √(2E/m), Rt = V before R = V/t."""
    match target.right:
        case Root(inner=inner, degree=degree):
            return Power(base=target.left, exponent=Number(text=str(degree), value=float(degree))), inner
        case Quotient(over=over, under=under):
            return Product(factors=(target.left, under)), over
    return None


def model_derivation(part: CompiledDerivation) -> tuple[str, ...]:
    return part.model
