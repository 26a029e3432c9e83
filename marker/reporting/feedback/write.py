"""Feedback sheets as files: one page for each candidate, and one for the whole class to print."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

from marker.errors import OutputError, Problem
from marker.reporting.atomic import write_text
from marker.reporting.decisions import Decisions
from marker.reporting.feedback.model import SheetView
from marker.reporting.feedback.view import sheets
from marker.reporting.feedback.wording import wording
from marker.reporting.paper import MarkedPaper
from marker.reporting.workbook.pen import plain_text

BUNDLE = "whole-class.html"
_LONGEST_NAME = 60


def write_feedback(
    folder: Path,
    marked: MarkedPaper,
    decisions: Decisions | None = None,
    model_answers: Mapping[str, Sequence[str]] | None = None,
) -> tuple[Path, ...]:
    """Write the pages into a folder, which is made if need be; returns their paths, the class's page last.

    decisions      the teacher's marks stand where there are any; teachers' notes are not shown
    model_answers  part -> lines of a full solution, folded away on the page
    Raises         OutputError when the folder or a page cannot be written
    """
    _make(folder)
    words = wording()
    views = sheets(marked, decisions, model_answers or {}, words)
    page, bundle = _template("page.html"), _template("bundle.html")
    written: list[Path] = []
    for name, view in zip(_names(views), views, strict=True):
        path = folder / name
        write_text(path, plain_text(page.render(sheet=view, words=words)))
        written.append(path)
    solutions = [(p, tuple((model_answers or {}).get(p, ()))) for p, _ in marked.parts if (model_answers or {}).get(p)]
    path = folder / BUNDLE
    write_text(path, plain_text(bundle.render(sheets=views, words=words, title=marked.title, solutions=solutions)))
    return (*written, path)


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        problem = Problem(where=str(folder), seen="a file", expected="a folder", mend="Name another folder for the feedback.")
        raise OutputError(problem) from None
    except OSError as error:
        why = (error.strerror or "no reason given").lower()
        raise OutputError(Problem(where=str(folder), seen=f"cannot be made ({why})", mend="Choose another folder.")) from None


def _names(views: Sequence[SheetView]) -> list[str]:
    """A file name for each candidate, safe on any system and told apart without regard to case."""
    taken = {BUNDLE.casefold()}
    names: list[str] = []
    for view in views:
        plain = "".join(c if c.isalnum() or c in "-_" else "-" for c in view.candidate)[:_LONGEST_NAME]
        name = f"{plain}.html"
        if plain != view.candidate or name.casefold() in taken or not plain.isascii():
            ascii_only = "".join(c for c in plain if c.isascii()) or "candidate"
            name = f"{ascii_only}-{hashlib.sha256(view.candidate.encode('utf-8', 'replace')).hexdigest()[:8]}.html"
        taken.add(name.casefold())
        names.append(f"candidate-{name}")
    return names


@lru_cache(maxsize=1)
def _environment() -> Any:
    """Every template is escaped, and a name a template does not know is an error."""
    try:
        from jinja2 import Environment, FileSystemLoader, StrictUndefined
    except ImportError:
        mend = "Install the extra: pip install marker[pages]"
        raise OutputError(Problem(where="feedback sheets", seen="Jinja2 is not installed", mend=mend)) from None
    folder = Path(__file__).resolve().parent / "templates"
    return Environment(loader=FileSystemLoader(folder), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)


def _template(name: str) -> Any:
    return _environment().get_template(name)
