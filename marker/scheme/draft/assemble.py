"""A part of a scheme put together from a segment of a model answer, tried out, and remarked on where it is unsure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from marker.expression import Expr, Negative, Number, Sum, Symbol
from marker.scheme.draft.choose import Segment
from marker.scheme.draft.equations import Equation
from marker.scheme.draft.makings import Makings, equation_text, safe_name
from marker.scheme.draft.marks import earned, with_marks
from marker.scheme.draft.model import DraftedPart
from marker.scheme.draft.values import Value


def drafted(makings: Makings, title: str, convention: str) -> DraftedPart | None:
    """The part whose scheme compiles and, of several that do, the one under which the model answer earns most; None when none does."""
    best: tuple[tuple[float, int], DraftedPart] | None = None
    for rank, choice in enumerate(_choices(makings.segment)):
        makings.remarks = {}
        spec = _spec(makings, choice)
        if spec is None:
            continue
        spec, part = with_marks(makings, spec, title, convention)
        if part is None:
            continue
        mark = earned(part, makings.lines)
        found = DraftedPart(
            spec=spec,
            lines=makings.lines,
            remarks={k: tuple(v) for k, v in makings.remarks.items()},
            sheets=tuple(dict.fromkeys(e.row.name for e in choice if e.row is not None)),
            found={g.find: g.value for g in part.compiled.goals},
        )
        score = (mark / part.marks, -rank)
        if best is None or score > best[0]:
            best = (score, found)
        if mark == part.marks:
            break
    return best[1] if best else None


def _choices(segment: Segment) -> list[tuple[Equation, ...]]:
    """Sets of equations to try: those that lead to the goals, all, those of the sheets, the last for each goal."""
    needed = _leading(segment, segment.equations)
    of_sheets = tuple(e for e in needed if e.row is not None or _is_definition(e))
    last = tuple(e for e in segment.equations if any(g in e.letters for g in segment.goals))
    out: list[tuple[Equation, ...]] = []
    for choice in (needed, segment.equations, of_sheets, last):
        if choice and choice not in out:
            out.append(choice)
    return out


def _leading(segment: Segment, equations: Sequence[Equation]) -> tuple[Equation, ...]:
    """Equations on the way from the data to the goals."""
    known = {n for n, v in segment.values.items() if v.source in ("stem", "working", "sheet", "carried")}
    need = set(segment.goals)
    used: list[Equation] = []
    changed = True
    while changed:
        changed = False
        for e in equations:
            if e not in used and e.letters & need:
                used.append(e)
                need |= e.letters - known
                changed = True
    return tuple(e for e in equations if e in used)


def _is_definition(e: Equation) -> bool:
    """d = 2r, Δv = v - u, T_1 = T: conversions and differences that carry no mark of their own."""
    sides = (e.left, e.right)
    if not any(isinstance(s, Symbol) for s in sides):
        return False
    other = e.right if isinstance(e.left, Symbol) else e.left
    return _simple(other)


def _simple(node: Expr) -> bool:
    match node:
        case Symbol():
            return True
        case Negative(inner=inner):
            return _simple(inner)
        case Sum(terms=terms):
            return all(isinstance(t.inner if isinstance(t, Negative) else t, Symbol | Number) for t in terms)
    return False


# --- the keys ---------------------------------------------------------------------------------------


def _spec(makings: Makings, equations: tuple[Equation, ...]) -> dict[str, Any] | None:
    segment = makings.segment
    letters = {n for e in equations for n in e.letters}
    goals = [g for g in segment.goals if g in letters]
    if not goals:
        return None
    spec: dict[str, Any] = {"name": makings.name, "marks": 1}
    if makings.stem:
        spec["stem"] = makings.stem
    given, carry = _data(makings, equations, goals)
    if given:
        spec["given"] = given
    if carry:
        spec["carry"] = carry
    definitions = [e for e in equations if e.row is None and _is_definition(e)]
    using = [e for e in equations if e not in definitions] or list(equations)
    spec["using"] = list(dict.fromkeys(equation_text(e) for e in using))
    _say_sheets(makings, using)
    also = [equation_text(e) for e in definitions if e not in using]
    if also:
        spec["also"] = also
    names = {safe_name(n): [n] for n in sorted(letters) if safe_name(n) != n and n != "π"}
    if names:
        spec["names"] = names
    signed = [safe_name(n) for n in sorted(letters) if n in segment.values and segment.values[n].si < 0]
    if signed:
        spec["signed"] = signed
    _goal_keys(makings, spec, goals)
    return spec


def _data(makings: Makings, equations: Sequence[Equation], goals: Sequence[str]) -> tuple[dict[str, str], dict[str, str]]:
    """Values for every letter that the model answer does not find, from the question where they stand there."""
    letters = {n for e in equations for n in e.letters}
    given: dict[str, str] = {}
    carry: dict[str, str] = {}
    extra = _not_derivable(makings.segment, equations, goals)
    for name in sorted(letters):
        value = makings.segment.values.get(name)
        if value is None or name in goals or (value.source in ("found", "between") and name not in extra):
            continue
        if name in extra:
            makings.remark(
                "given", f"{safe_name(name)} = {value.text} is worked out in the model answer, but not from letters: look how it is given."
            )
        safe = safe_name(name)
        if value.source == "sheet":
            makings.sheet.setdefault(safe, value.text)
        elif value.source in ("carried", "working") and (part := _part_with(makings.before, safe, value.si)):
            carry[safe] = part
        else:
            given[safe] = value.text
            if value.source == "working":
                makings.remark("given", f"{safe} = {value.text} stands in the model answer, not in the question: look whether it is given.")
    return given, carry


def _not_derivable(segment: Segment, equations: Sequence[Equation], goals: Sequence[str]) -> frozenset[str]:
    """Letters with a value worked out in numbers only, which must be given if the goals are to be found."""
    known = {n for n, v in segment.values.items() if v.source in ("stem", "working", "sheet", "carried")} - set(goals)
    heads = {e.left.name for e in equations if isinstance(e.left, Symbol)}
    extra: set[str] = set()
    while True:
        _spread(known, equations)
        if set(goals) <= known:
            return frozenset(extra)
        open_to = [n for n, v in segment.values.items() if v.source == "found" and n not in known and n not in goals and v.text]
        open_to.sort(key=lambda n: (n in heads, segment.values[n].line))
        if not open_to:
            return frozenset(extra)
        extra.add(open_to[0])
        known.add(open_to[0])


def _spread(known: set[str], equations: Sequence[Equation]) -> None:
    """Letters found from known ones: one from each equation, or two from two equations with the same two letters."""
    changed = True
    while changed:
        changed = False
        open_sets = [e.letters - known for e in equations]
        for missing in open_sets:
            if len(missing) == 1 or (len(missing) in (2, 3) and sum(m <= missing and bool(m) for m in open_sets) >= len(missing)):
                known |= missing
                changed = True
                break


def _part_with(before: Sequence[DraftedPart], letter: str, value: float) -> str | None:
    """The latest earlier part that finds a letter, with this value to within its rounding."""
    for part in reversed(before):
        if letter in part.found and abs(part.found[letter] - value) <= 0.05 * abs(value):
            return str(part.spec["name"])
    return None


def _say_sheets(makings: Makings, using: Sequence[Equation]) -> None:
    for e in using:
        if e.row is not None:
            makings.remark("using", f"{equation_text(e)}: {e.row.name}")
        else:
            makings.remark("using", f"{equation_text(e)} is on no relationship sheet: look whether it should carry a mark.")


def _goal_keys(makings: Makings, spec: dict[str, Any], goals: Sequence[str]) -> None:
    values = makings.segment.values
    if len(goals) == 1:
        spec["find"] = safe_name(goals[0])
        spec.update(_answer_keys(values[goals[0]]))
        return
    spec["step"] = [{"find": safe_name(g), "marks": 1, **_answer_keys(values[g])} for g in goals]
    spec["marks"] = len(goals)


def _answer_keys(value: Value) -> dict[str, Any]:
    """The unit the model answer is in."""
    if value.unit is None or value.unit.name in ("°",):
        return {"unit": "°"} if value.unit is not None else {}
    return {"unit": value.unit.name}
