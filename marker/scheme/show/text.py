"""Marking instructions as plain text, for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from marker.scheme.show.model import AnswerView, LineView, PartView, RulingView, SchemeView

WIDTH = 110
_COLUMN = 64


def scheme_text(view: SchemeView) -> str:
    """The whole document; rulings are those that were replaced, since `marker scheme rulings` lists them all."""
    head = f"{view.title}: marking instructions, {view.maximum} marks; convention: {view.convention}"
    blocks = [head, *("\n".join(_part(p)) for p in view.parts)]
    replaced = [r for r in view.rulings if r.replaced]
    if replaced:
        blocks.append("\n".join(["Rulings replaced for this paper", *_rulings(replaced)]))
    return "\n\n".join(blocks)


def _part(part: PartView) -> Iterator[str]:
    yield f"{part.name}  ({part.marks} mark{'' if part.marks == '1' else 's'})"
    yield from _wrapped(part.stem, "  ")
    yield from _working(part.lines, "  ")
    yield from (f"  {_answer(a)}" for a in part.answers if a.accepted or a.figures)
    yield "  Points:"
    for p in part.points:
        further = "; ".join(x for x in (p.type, f"needs {p.needs}" if p.needs else "") if x)
        yield f"    {p.label}. {p.what}, {p.marks}" + (f" ({further})" if further and further != p.what else "")
    for route in part.routes:
        yield f"  Another method: {route.name}"
        yield from _working(route.lines, "    ")
    for said in part.guidance:
        yield from _wrapped(said, "  - ", "    ")
    yield from (f"  Ruling of this part: {r.name}: {r.value}" for r in part.rulings)


def _working(lines: Iterable[LineView], indent: str) -> Iterator[str]:
    """Expected working, with the numbers of the points a line earns."""
    for line in lines:
        earns = " ".join(f"[{n}]" for n, _ in line.points)
        yield f"{indent}{line.text.ljust(_COLUMN) if earns else line.text}{' ' if earns else ''}{earns}"


def _answer(answer: AnswerView) -> str:
    label = f"({answer.label}) " if answer.label else ""
    details = "; ".join(x for x in (f"accepted: {answer.accepted}" if answer.accepted else "", answer.figures) if x)
    return f"{label}{answer.symbol} = {answer.value}; {details}"


def _rulings(rulings: Iterable[RulingView]) -> Iterator[str]:
    for ruling in rulings:
        yield from _wrapped(f"{ruling.name}: {ruling.value}. {ruling.meaning}", "  ", "    ")


def _wrapped(text: str, first: str, further: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=further or first)
