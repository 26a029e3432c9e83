"""Questions answered in letters: "make v the subject of E = ½mv²", "show that r = mv/(qB)"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from marker.errors import SchemeError
from marker.expression import Expr, Product, Symbol, put, symbols
from marker.scheme.draft.equations import Equation
from marker.scheme.draft.makings import equation_text, safe_name
from marker.scheme.draft.marks import compiled, earned
from marker.scheme.draft.model import DraftedPart, Question
from marker.scheme.draft.working import Written, working_of

_LETTER = r"([A-Za-zα-ωΑ-Ω](?:_?\w{1,3})?)"
_SUBJECT = re.compile(
    rf"\bmak(?:e|ing) {_LETTER} the subject\b"
    rf"|\brearrang\w* (?:[^.]{{0,60}} )?(?:for|to (?:find|give|make)) {_LETTER}\b"
    rf"|\bexpress {_LETTER} in terms of\b",
    re.IGNORECASE,
)
_SHOWN = re.compile(r"\b(?:show|prove|derive|deduce|verify)\b", re.IGNORECASE)
_TWO = re.compile(r"[a-z][A-Z]")
MOST_STARTS = 6


def drafted_in_letters(question: Question, title: str, convention: str) -> DraftedPart | None:
    """The part a question in letters makes, under which its model answer earns everything; None where it is no such question."""
    whole = working_of((question.stem, *question.lines))
    if any(a.line == 0 for a in whole.assigned):
        return None  # the question gives a value
    equations = [replace(e, left=_single(e.left), right=_single(e.right)) for e in whole.equations]
    asked = [e for e in equations if e.line == 0]
    answer = [e for e in equations if e.line > 0]
    derived = () if whole.assigned else _derived(question, asked, answer)
    for spec, remarks in (*_rearranged(question, asked, answer), *derived):
        try:
            part = compiled(spec, (), {}, title, convention).parts[-1]
        except SchemeError:
            continue
        if earned(part, question.lines) == part.marks:
            return DraftedPart(spec=spec, lines=question.lines, remarks=remarks)
    return None


def _single(tree: Expr) -> Expr:
    """The expression with a name such as qV, a small letter and a capital, as the product it is."""
    names = [n for n in symbols(tree) if _TWO.fullmatch(n)]
    return put(tree, {n: Product(factors=tuple(Symbol(name=c, known=True) for c in n)) for n in names}) if names else tree


Proposal = tuple[dict[str, Any], Mapping[str, tuple[str, ...]]]


def _rearranged(question: Question, asked: Sequence[Written], answer: Sequence[Written]) -> Iterator[Proposal]:
    """A change of subject, of the equation the question prints, or else of the first that the model answer begins with."""
    named = _SUBJECT.search(question.stem)
    if named is None:
        return
    subject = safe_name(next(g for g in named.groups() if g))
    for equation in (*asked[:1], *answer[:1]):
        if not _is_alone(equation, subject):
            for marks in dict.fromkeys((question.marks or 2, 2)):
                spec = _spec(question, "rearrangement", marks) | {"using": [_text(equation)], "subject": subject}
                yield spec, {"kind": ("Read as a change of subject: look whether this is the equation given.",)}


def _derived(question: Question, asked: Sequence[Written], answer: Sequence[Written]) -> Iterator[Proposal]:
    """A derivation of the last equation the question prints, from as few of the model answer's first equations as it takes."""
    if not asked or not _SHOWN.search(question.stem):
        return
    target = _text(asked[-1])
    starts = list(dict.fromkeys(t for e in answer if (t := _text(e)) != target))[:MOST_STARTS]
    said = "Read as a derivation: look whether these are the relationships it starts from, and what each mark is for."
    for count in range(1, len(starts) + 1):
        for marks in dict.fromkeys((question.marks or 3, count + 1, 3, 2)):
            yield _spec(question, "derivation", marks) | {"target": target, "using": starts[:count]}, {"using": (said,)}


def _spec(question: Question, kind: str, marks: int) -> dict[str, Any]:
    return {"name": question.name, "kind": kind, "marks": marks, "stem": question.stem}


def _text(e: Written) -> str:
    return equation_text(Equation(left=e.left, right=e.right, line=e.line))


def _is_alone(e: Written, letter: str) -> bool:
    """The letter stands alone on one side: the equation is the answer, not what the question gives."""
    return any(isinstance(side, Symbol) and safe_name(side.name) == letter for side in (e.left, e.right))
