"""A class test marked from its files: scheme and responses in, a marked paper out. The one place where marking meets files."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from datetime import datetime
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from marker.collecting import collected_seldom
from marker.errors import Problem, ResponsesError
from marker.intake import Responses, read_responses
from marker.marking import mark_candidate
from marker.reporting.paper import MarkedPaper, paper_of_results
from marker.reporting.records import read_records
from marker.results import PartResult, Possibility, Referral
from marker.scheme.convention import Convention
from marker.scheme.paper import Paper, load_scheme

Progress = Callable[[int, int], None]
Typed = dict[str, tuple[str, ...]]


def mark_files(
    scheme: Path, responses: Path, *, convention: str | None = None, jobs: int = 1, progress: Progress | None = None, when: str = ""
) -> tuple[MarkedPaper, tuple[Problem, ...]]:
    """Marks a responses file against a scheme file.

    jobs  processes to share the candidates among;  progress  called with (done, of) candidates
    Returns the marked paper, and what was set aside of the responses. Raises SchemeError or ResponsesError.
    """
    paper = load_scheme(scheme, convention)
    typed = read_responses(responses, [p.name for p in paper.parts])
    if not typed.candidates:
        raise ResponsesError(typed.problems or Problem(where=str(responses), seen="no candidate", mend="Check that the file has rows."))
    results = _mark_all(paper, scheme, convention, typed, jobs, progress)
    results.update({key: _doubtful(results[key], why) for key, why in typed.doubts.items() if key in results})
    marked = MarkedPaper(
        title=paper.title,
        scheme_file=scheme.name,
        scheme_sha256=hashlib.sha256(scheme.read_bytes()).hexdigest(),
        responses_file=typed.file or responses.name,
        responses_sha256=typed.sha256,
        convention=paper.convention.name,
        rulings=tuple(rulings_in_force(paper.convention)),
        version=package_version(),
        when=when or datetime.now().strftime("%Y-%m-%d %H:%M"),
        parts=tuple((p.name, p.marks) for p in paper.parts),
        candidates=typed.candidates,
        results=results,
        groups=typed.groups,
        half_marks=paper.convention.half_marks,
        notes=(*typed.notes, *(p.sentence() for p in typed.problems)),
    )
    return marked, typed.problems


def _mark_all(
    paper: Paper, scheme: Path, convention: str | None, typed: Responses, jobs: int, progress: Progress | None
) -> dict[tuple[str, str], PartResult]:
    names = [p.name for p in paper.parts]
    work = [(c, {n: typed.of(c, n) for n in names}) for c in typed.candidates]
    out: dict[tuple[str, str], PartResult] = {}
    with collected_seldom():
        for done, (candidate, results) in enumerate(_each(paper, scheme, convention, work, jobs), 1):
            out.update(((candidate, r.part), r) for r in results)
            if progress is not None:
                progress(done, len(work))
    return out


def _each(
    paper: Paper, scheme: Path, convention: str | None, work: list[tuple[str, Typed]], jobs: int
) -> Iterable[tuple[str, tuple[PartResult, ...]]]:
    if jobs <= 1 or len(work) < 2 * jobs:
        return ((candidate, mark_candidate(paper, lines)) for candidate, lines in work)
    with ProcessPoolExecutor(max_workers=jobs, initializer=_load_once, initargs=(scheme, convention)) as pool:
        return list(pool.map(_mark_one, work, chunksize=max(1, len(work) // (4 * jobs))))


_loaded: dict[str, Paper] = {}


def _load_once(scheme: Path, convention: str | None) -> None:
    """In a worker process: the scheme is compiled there, since closures do not travel."""
    _loaded["paper"] = load_scheme(scheme, convention)


def _mark_one(work: tuple[str, Typed]) -> tuple[str, tuple[PartResult, ...]]:
    candidate, lines = work
    return candidate, mark_candidate(_loaded["paper"], lines)


def _doubtful(result: PartResult, why: str) -> PartResult:
    """A response whose text may not be what was typed: always referred."""
    possibilities = result.referral.possibilities if result.referral else (Possibility(text="as read", mark=result.mark),)
    reason = why if result.referral is None else f"{why}; {result.referral.reason}"
    return replace(result, referral=Referral(reason=reason, possibilities=possibilities))


def rulings_in_force(convention: Convention) -> Iterable[tuple[str, str, str]]:
    """(ruling, value, source) of every ruling, nested ones under their dotted name."""
    for key, value in convention.model_dump().items():
        if key in ("name", "source"):
            continue
        if isinstance(value, dict):
            yield from ((f"{key}.{k}", _shown(v), convention.source) for k, v in value.items())
        else:
            yield key, _shown(value), convention.source


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return "any"
    return ", ".join(map(str, value)) if isinstance(value, tuple | list) else str(value)


def package_version() -> str:
    try:
        return version("marker")
    except PackageNotFoundError:
        return "not installed"


def feedback_material(scheme: Path, records: Path) -> tuple[MarkedPaper, dict[str, tuple[str, ...]]]:
    """A marked paper put together from its scheme and records, and a model answer for each part."""
    paper = load_scheme(scheme)
    parts = [(p.name, p.marks) for p in paper.parts]
    marked = paper_of_results(paper.title, parts, read_records(records))
    return marked, {p.name: p.kind.model(p.compiled) for p in paper.parts}
