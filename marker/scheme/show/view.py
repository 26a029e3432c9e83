"""A compiled paper as a document of marking instructions."""

from __future__ import annotations

from dataclasses import replace
from pathlib import PurePath

from marker.scheme.compiled import CompiledCalculation
from marker.scheme.paper import CompiledPart, Paper, load_convention
from marker.scheme.show.calculation import calculation_view
from marker.scheme.show.model import PartView, SchemeView
from marker.scheme.show.other import other_view
from marker.scheme.show.rulings import replaced, rulings_of


def scheme_view(paper: Paper) -> SchemeView:
    """Everything the document shows, in the paper's order."""
    return SchemeView(
        title=paper.title,
        maximum=f"{paper.maximum:g}",
        convention=paper.convention.name,
        source=PurePath(paper.source).name,
        parts=tuple(_part(p, paper) for p in paper.parts),
        rulings=rulings_of(paper.convention, load_convention(paper.convention.name) if _is_ready(paper) else None),
    )


def _is_ready(paper: Paper) -> bool:
    from marker.errors import SchemeError

    try:
        load_convention(paper.convention.name)
    except SchemeError:
        return False
    return True


def _part(part: CompiledPart, paper: Paper) -> PartView:
    view = calculation_view(part) if isinstance(part.compiled, CompiledCalculation) else other_view(part)
    return replace(view, rulings=replaced(part.convention, paper.convention))
