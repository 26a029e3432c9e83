"""The lines of a response worked in letters as a row of equations, each true or not, with the relationships it rests on."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from marker.expression import Expr, Negative, Number, Sum, symbols
from marker.judging.model import Evidence, JudgedScript, Kind
from marker.judging.script import judge_script
from marker.kinds.algebra.shape import numerical
from marker.physics.system import Equation
from marker.physics.units import parse_unit
from marker.reading.structure import SUMS_IN_BRACKETS
from marker.scheme.compiled import CompiledCalculation

LONGEST_SYMBOL = 3
_DONE = re.compile(
    r"\b(?:divid(?:e|ed|es|ing)|multipl(?:y|ied|ies|ying)|cancel(?:s|ed|led|ing|ling)?|timesing|times(?= (?:both|each|through|by)\b))"
    r"(?: (?:both sides|each side|through|throughout|out|off|the)){0,2}(?: by)? [^=;,]{1,24}?(?= [^\s=;,]{1,12} ?=)",
    re.IGNORECASE,
)
_PROVED = re.compile(r"[∎□■]|\bq\.?e\.?d\b\.?", re.IGNORECASE)
_IN_UNIT = re.compile(r" (?:measured )?in (?P<unit>\S{1,12}|metres per second|newtons? per metre)\s*[.!]?\s*$")
_ROOT_OF_IT = re.compile(
    r"(?P<subject>[^=]{1,40}=)\s*(?:the )?(?:(?:square )?root|√|sqrt) ?(?:of |\()?(?:that|it|this|the above|the right side|rhs)\b[ ).]*$",
    re.IGNORECASE,
)
_SQUARED = re.compile(r"(?:\^ ?2|²|squared|(?<=[A-Za-z])2)\s*=(?P<whole>[^=]{1,200})$", re.IGNORECASE)
_A_THIRD = re.compile(r"\^ ?\(? ?0?\.3{2,9}\b ?\)?")
_NOUGHT = Number(text="0", value=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One equation of the response, in the part's letters.

    true       it follows from the part's relationships;  relations  the fewest of them it follows from, definitions left out
    numbers    values stand in it in place of letters;  open  it holds a letter that is not known here
    loose      it is true only with brackets round a sum that were not typed
    """

    line: int
    text: str
    equation: Equation
    true: bool
    relations: frozenset[int]
    numbers: bool = False
    open: bool = False
    alternative: bool = False
    loose: bool = False
    evidence: Evidence = field(compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """A whole response: its equations in order, and the script they were read from."""

    said: tuple[Said, ...]
    script: JudgedScript = field(compare=False)

    @property
    def notes(self) -> tuple[str, ...]:
        """What was assumed in reading it."""
        return tuple(dict.fromkeys(a for line in self.script.lines for a in line.assumptions))

    @property
    def unread(self) -> tuple[int, ...]:
        """Lines with mathematics that could not be read."""
        return tuple(x.number for x in self.script.lines if x.unread and not x.withdrawn)


def read_working(part: CompiledCalculation, lines: Sequence[str]) -> Working:
    """Every equation of a response. Crossed-out work counts when nothing replaces it, unless the convention never counts it."""
    script = judge_script(part, [_parted(line) for line in rooted(lines)], {})
    evidence = script.evidence
    if not evidence and part.convention.crossed_out != "never":
        evidence = script.crossed
    said = [s for e in evidence if (s := _said(part, e)) is not None]
    loose = {x.number for x in script.lines if SUMS_IN_BRACKETS in x.assumptions}
    said = [replace(s, loose=s.true and s.line in loose) for s in said]
    typed = {x.number: x.text for x in script.lines}
    return Working(said=tuple(_with_neighbours(part, said, typed)), script=script)


def _with_neighbours(part: CompiledCalculation, said: Sequence[Said], typed: Mapping[int, str]) -> Iterator[Said]:
    """In a chain, F = Bqv = mv²/r, judged against its head, what the sides say of each other too; the lesser claim first."""
    before: Said | None = None
    for one in said:
        between = None if before is None or not _adjoin(before, one, typed) else _between(part, before, one)
        if between is not None and len(between.relations) < len(one.relations):
            yield between
        yield one
        if between is not None and len(between.relations) >= len(one.relations):
            yield between
        before = one


def _adjoin(a: Said, b: Said, typed: Mapping[int, str]) -> bool:
    """Nothing but the equals sign stands between two sides of one line."""
    first, second = a.evidence.columns, b.evidence.columns
    if a.line != b.line or first is None or second is None:
        return False
    return typed.get(a.line, "")[first[1] : second[0]].strip(" ()[]") in ("=", "")


def _between(part: CompiledCalculation, a: Said, b: Said) -> Said | None:
    if not (a.true and b.true) or a.equation[0] != b.equation[0] or a.equation == b.equation:
        return None
    equation = (a.equation[1], b.equation[1])
    shown = part.system.support(equation)
    return replace(b, equation=equation, relations=shown - part.helpers) if shown else None


def rooted(lines: Sequence[str]) -> tuple[str, ...]:
    """The lines with "r = square root of that" written out, where the line before it ends with what a square is equal to."""
    out: list[str] = []
    for line in lines:
        asked = _ROOT_OF_IT.fullmatch(line.strip())
        before = _SQUARED.search(out[-1].rstrip(" .;,")) if asked and out else None
        out.append(f"{asked['subject']} √({before['whole'].strip()})" if asked and before else line)
    return tuple(out)


def _without_unit(line: str) -> str:
    """A formula without the "in m" after it."""
    found = _IN_UNIT.search(line) if "=" in line else None
    return line[: found.start()] if found and parse_unit(found["unit"]) else line


def _parted(line: str) -> str:
    """A break after what is done to both sides: "divide by v; Bq = mv/r". A decimal in place of the exponent ⅓ stands for it; the sign
    that all is shown says nothing."""
    line = _PROVED.sub(lambda match: " " * len(match.group()), _without_unit(line))
    return _DONE.sub(r"\g<0>; ", _A_THIRD.sub("^(1/3)", line)) if "=" in line else line


def _said(part: CompiledCalculation, e: Evidence) -> Said | None:
    equation = _equation(e)
    if equation is None:
        return _value(e)
    names = symbols(equation[0]) | symbols(equation[1])
    strange = names - part.system.base.keys() - {"π"}
    if any(len(n) > LONGEST_SYMBOL and "_" not in n for n in strange):
        return None  # words set equal to words
    shown = None if strange else part.system.support(equation)
    if shown is not None and not shown:
        return None
    numbers = e.kind in (Kind.SUBSTITUTION, Kind.VALUE) and numerical(equation)
    return Said(
        line=e.line,
        text=e.text,
        equation=equation,
        true=bool(shown),
        relations=frozenset(shown or ()) - part.helpers,
        numbers=numbers,
        open=bool(strange) or bool(e.note),
        alternative=e.alternative,
        evidence=e,
    )


def _value(e: Evidence) -> Said | None:
    """A number given for a letter."""
    if e.kind is not Kind.VALUE or e.value is None or e.value.number is None:
        return None
    return Said(
        line=e.line,
        text=e.text,
        equation=(e.value.number, e.value.number),
        true=False,
        relations=frozenset(),
        numbers=True,
        evidence=e,
    )


def _equation(e: Evidence) -> Equation | None:
    if e.stated is None:
        return None
    if e.kind is Kind.ARITHMETIC:
        return _set_to_nought(e)
    return e.stated


def _set_to_nought(e: Evidence) -> Equation | None:
    """`Bqv − mv²/r = 0` as Bqv = mv²/r."""
    if e.value is None or e.value.si or e.stated is None or not symbols(e.stated[0]):
        return None
    tree = e.stated[0]
    if not isinstance(tree, Sum):
        return (tree, _NOUGHT)
    taken = tuple(t.inner for t in tree.terms if isinstance(t, Negative))
    left = tuple(t for t in tree.terms if not isinstance(t, Negative))
    return (_sum(left), _sum(taken))


def _sum(terms: tuple[Expr, ...]) -> Expr:
    return _NOUGHT if not terms else terms[0] if len(terms) == 1 else Sum(terms=terms)
