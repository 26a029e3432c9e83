"""`marker moderate …`: options in, one library call, a short printed result. Heavy libraries load inside the command that needs them."""

from __future__ import annotations

import functools
import secrets
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any, ParamSpec

import typer
from rich.table import Table

from marker.errors import MarkerError
from marker.moderation import options
from marker.moderation.console import err, out
from marker.moderation.model import refuse_one

app = typer.Typer(
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="Samples, blind second marks, agreement and decisions, standardisation, item analysis, and the record of them.",
)
P = ParamSpec("P")

Marks = Annotated[Path, typer.Argument(help="First marks: marks workbook, records (.jsonl), or a table (.xlsx, .csv).", show_default=False)]
Classes = Annotated[Path | None, typer.Option(help="Table with Candidate, Class and, if wanted, Marker.", show_default=False)]
Records = Annotated[Path | None, typer.Option(help="Records of the first marks, for typed lines and faults.", show_default=False)]
Rules = Annotated[Path | None, typer.Option(help="The department's own rules file (TOML).", show_default=False)]
Log = Annotated[Path | None, typer.Option(help="Record to add an entry to.", show_default=False)]
Who = Annotated[str, typer.Option(help="Who does this; needed with --log.", show_default=False)]
Page = Annotated[Path | None, typer.Option(help="The same as a page (.html).", show_default=False)]
Strict = Annotated[bool, typer.Option(help="Exit status 1 when something needs a person.")]


def refusals(command: Callable[P, None]) -> Callable[P, None]:
    """A refusal becomes a message on standard error and exit status 2."""

    @functools.wraps(command)
    def told(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            command(*args, **kwargs)
        except MarkerError as error:
            err.print(str(error), soft_wrap=True)
            raise typer.Exit(2) from None

    return told


@app.command()
@refusals
def sample(
    marks: Marks,
    output: Annotated[Path, typer.Option("--output", "-o", help="Workbook for the second marker; one for each, when there are several.")],
    rule: Annotated[str, typer.Option(help="Sampling rule by name (see: marker moderate rules).")] = options.SAMPLING,
    draw: Annotated[int | None, typer.Option(help="Draw number; the same number draws the same sample.", show_default="by chance")] = None,
    always: Annotated[list[str] | None, typer.Option("--with", help="Candidate who is always in the sample; may be repeated.")] = None,
    part: Annotated[list[str] | None, typer.Option(help="Part to mark again; may be repeated.", show_default="all")] = None,
    to: Annotated[
        list[str] | None, typer.Option(help="Second marker, with the classes they teach: Adair=13A,13C. May be repeated.")
    ] = None,
    copies: Annotated[int, typer.Option(min=1, help="How many second markers mark each script.")] = 1,
    common: Annotated[int, typer.Option(min=0, help="Scripts that go to every second marker.")] = 0,
    step: Annotated[float, typer.Option(help="Smallest step of a mark: 1 or 0.5.")] = 1.0,
    key: Annotated[Path | None, typer.Option(help="Where the key is written.", show_default="beside the workbook")] = None,
    classes: Classes = None,
    records: Records = None,
    rules: Rules = None,
    log: Log = None,
    who: Who = "",
) -> None:
    """Draw a sample by a published rule and write blind workbooks for second markers."""
    from marker.moderation.allocation import allocate
    from marker.moderation.blind import write_blind, write_key
    from marker.moderation.names import file_for, second_markers
    from marker.moderation.sampling import draw_sample

    _must_name(log, who)
    if step not in (1.0, 0.5):
        refuse_one("--step", f"{step:g} is not a step of marks", expected="1 or 0.5")
    first = _first(marks, records, classes)
    number = secrets.randbelow(10**6) if draw is None else draw
    found = draw_sample(first, options.sampling_rule(rule, rules), number, always or (), part or ())
    markers = second_markers(to or ())
    given = allocate(found, first, markers, copies, common)
    files = []
    for name, drawn in given.items():
        if drawn:
            files.append(file_for(output, name, len(markers) > 1))
            write_blind(files[-1], name, drawn, first, number, step)
    keyed = key or output.with_name(f"{output.stem}-key.xlsx")
    write_key(keyed, found, given, first)
    shares = ", ".join(f"{name} {len(drawn)}" for name, drawn in given.items())
    out.print(f"{len(found.drawn)} of {len(first.candidates)} candidates, {len(found.responses)} responses. Draw {number}.", soft_wrap=True)
    out.print(f"Rule: {found.rule.name}. Scripts for: {shares}.", soft_wrap=True)
    out.print(f"Written: {', '.join(str(f) for f in files)}. Key, not for the second markers: {keyed}.", soft_wrap=True)
    data = {"rule": found.rule.name, "source": found.rule.source, "draw": number, "candidates": [d.candidate for d in found.drawn]}
    _record(
        log, who, "sample", {**data, "second markers": {n: [d.candidate for d in ds] for n, ds in given.items()}}, [marks, *files, keyed]
    )


@app.command()
@refusals
def compare(
    marks: Marks,
    seconds: Annotated[list[Path] | None, typer.Argument(help="Second marks: filled-in workbooks, records, or tables.")] = None,
    output: Annotated[Path | None, typer.Option("--output", "-o", help="Report workbook.", show_default=False)] = None,
    page: Page = None,
    rule: Annotated[str, typer.Option(help="Rule of decision by name.")] = options.DECISION,
    anchor: Annotated[str, typer.Option(help="What parts are held against: calculation or written.")] = options.ANCHOR,
    first: Annotated[str, typer.Option(help="Whose marks count as first, when one table holds several markers.", show_default=False)] = "",
    key: Annotated[Path | None, typer.Option(help="Key of the sample, for a rule with scripts checked first.", show_default=False)] = None,
    missing: Annotated[bool, typer.Option(help="Pass over responses without a second mark instead of refusing.")] = False,
    title: Annotated[str, typer.Option(help="Title of the report.", show_default="the file of the first marks")] = "",
    classes: Classes = None,
    records: Records = None,
    rules: Rules = None,
    log: Log = None,
    who: Who = "",
    strict: Strict = False,
) -> None:
    """Compare first marks with second marks: agreement, bias, a decision by rule, adjusted marks, and what to look at again."""
    from marker.moderation.extra import need_statistics

    _must_name(log, who)
    need_statistics()
    from marker.moderation.blind import read_checked_first
    from marker.moderation.printing import print_report
    from marker.moderation.report import make_report, needs_person
    from marker.moderation.report_page import page as report_page
    from marker.moderation.report_workbook import write_report
    from marker.moderation.source import load_marks
    from marker.reporting.atomic import write_text

    chosen = options.decision_rules(rule, anchor, rules)
    lead = _first(marks, records, classes)
    others = [load_marks(p, like=lead, missing=missing) for p in seconds or ()]
    report = make_report(
        lead,
        others,
        rule=chosen.rule,
        tolerance=chosen.tolerance,
        anchor=chosen.anchor,
        title=title or marks.stem,
        first_marker=first,
        checked_first=read_checked_first(key) if key else (),
        made_by=_made_by([marks, *(seconds or ())]),
    )
    files = [p for p in (output, page) if p is not None]
    if output is not None:
        write_report(output, report)
    if page is not None:
        write_text(page, report_page(report))
    print_report(report, files)
    _record(log, who, "comparison", _comparison_data(report), [marks, *(seconds or ()), *files])
    if strict and needs_person(report):
        raise typer.Exit(1)


@app.command()
@refusals
def items(
    marks: Marks,
    output: Annotated[Path | None, typer.Option("--output", "-o", help="Workbook of the item analysis.", show_default=False)] = None,
    page: Page = None,
    boundary: Annotated[list[str] | None, typer.Option(help="Grade and its least mark, A=30; may be repeated.")] = None,
    missing: Annotated[bool, typer.Option(help="Pass over cells without a mark.")] = False,
    title: Annotated[str, typer.Option(help="Title.", show_default="the file of the marks")] = "",
    records: Records = None,
    rules: Rules = None,
) -> None:
    """Facility, discrimination, consistency, wrong answers, and what other grade boundaries would give."""
    from marker.moderation.extra import need_statistics

    need_statistics()
    from marker.moderation import items as analysis
    from marker.moderation.items_report import write_items, write_items_page
    from marker.moderation.names import boundaries
    from marker.moderation.printing import print_items
    from marker.moderation.source import load_marks

    loaded = load_marks(marks, records=records, missing=missing)
    found = analysis.analyse(loaded, options.item_rules(rules))
    limits = boundaries(boundary or (), loaded.maximum)
    what_if = analysis.boundaries([t for _, t in found.totals], limits, found.paper.sem)
    if output is not None:
        write_items(output, title or marks.stem, found, what_if)
    if page is not None:
        write_items_page(page, title or marks.stem, found, what_if)
    print_items(found, [p for p in (output, page) if p is not None])


@app.command()
@refusals
def standardise(
    agreed: Annotated[Path, typer.Argument(help="Agreed marks of the practice or control responses.", show_default=False)],
    marks: Annotated[list[Path], typer.Argument(help="Marks of the markers: tables, or filled-in workbooks.", show_default=False)],
    rule: Annotated[str, typer.Option(help="Qualifying rule (with --drift: rule of drift) by name.")] = options.QUALIFYING,
    drift: Annotated[bool, typer.Option(help="Control responses, in the order they were marked: look for drift.")] = False,
    rules: Rules = None,
    log: Log = None,
    who: Who = "",
    strict: Strict = False,
) -> None:
    """Whether each marker qualifies on practice responses, or drifts on control responses."""
    from marker.moderation.extra import need_statistics

    _must_name(log, who)
    need_statistics()
    from marker.moderation.source import load_marks

    reference = load_marks(agreed, marker="agreed")
    given = [load_marks(p, like=reference) for p in marks]
    told = _drift(reference, given, rule, rules) if drift else _qualify(reference, given, rule, rules)
    _record(log, who, "drift" if drift else "standardisation", {"rule": rule, "markers": told}, [agreed, *marks])
    if strict and not all(entry["met"] for entry in told):
        raise typer.Exit(1)


@app.command()
@refusals
def decide(
    log: Annotated[Path, typer.Argument(help="The record.", show_default=False)],
    who: Annotated[str, typer.Option(help="Who decides.", show_default=False)],
    decision: Annotated[str, typer.Option(help="What is decided, in a sentence.", show_default=False)],
    why: Annotated[str, typer.Option(help="Why.", show_default=False)] = "",
    file: Annotated[list[Path] | None, typer.Option(help="File the decision is about; may be repeated.")] = None,
) -> None:
    """Write a person's decision into the record."""
    if not who.strip() or not decision.strip():
        refuse_one("marker moderate decide", "a decision needs a person and a sentence", mend="Fill in --who and --decision.")
    _record(log, who, "decision", {"decision": decision, "why": why}, file or [])


@app.command()
@refusals
def verify(
    log: Annotated[Path, typer.Argument(help="The record.", show_default=False)],
    head: Annotated[str, typer.Option(help="Digest of an entry, as noted when it was the last.", show_default=False)] = "",
) -> None:
    """Prove the record whole: nothing changed, taken out, put in or moved."""
    from marker.moderation import record

    found = record.verify(log, head)
    for problem in found.problems:
        err.print(problem.sentence(), soft_wrap=True)
    for n, name in found.changed:
        out.print(f"Note: {name} is not as it was when entry {n} was written.", soft_wrap=True)
    if not found.whole:
        err.print(f"{log.name} is not whole.")
        raise typer.Exit(2)
    last = found.entries[-1]
    out.print(f"{log.name} is whole: {len(found.entries)} entries, the last by {last.who} on {last.when}.", soft_wrap=True)
    out.print(f"Digest of the last entry: {found.head}", soft_wrap=True)


@app.command("rules")
@refusals
def list_rules() -> None:
    """The shipped rules by name, each with its source."""
    table = Table("Kind", "Name", "Source", box=None, pad_edge=False, header_style="bold")
    for row in options.listed():
        table.add_row(*row)
    out.print(table)


def _must_name(log: Path | None, who: str) -> None:
    if log is not None and not who.strip():
        refuse_one("--log", "an entry in the record needs the person who did it", mend="Add --who.")


def _first(marks: Path, records: Path | None, classes: Path | None) -> Any:
    from marker.moderation.source import load_marks, read_classes

    found = load_marks(marks, records=records)
    return read_classes(classes, found) if classes is not None else found


def _record(log: Path | None, who: str, what: str, data: dict[str, Any], files: list[Path]) -> None:
    if log is None:
        return
    from marker.moderation import record

    when = datetime.now().astimezone().isoformat(timespec="seconds")
    entry = record.append(log, when=when, who=who, what=what, data=data, files=files)
    out.print(f"Entry {entry.n} in {log.name}, digest {entry.digest[:16]}.", soft_wrap=True)


def _made_by(files: list[Path]) -> list[tuple[str, str]]:
    from marker.moderation.record import file_digest

    return [(f.name, f"SHA-256 {file_digest(f)}") for f in files]


def _comparison_data(report: Any) -> dict[str, Any]:
    overall = report.comparison.overall.figures
    return {
        "rule": report.rule.name,
        "tolerance": report.comparison.tolerance.name,
        "pairs": overall.n,
        "exact": round(overall.exact.value, 4),
        "bias": round(overall.bias.value, 4),
        "proposed": [{"marker": d.marker, "verdict": d.verdict.value, "reason": d.reason} for d in report.decisions],
        "adjusted": {a.candidate: a.adjusted for a in report.adjusted if a.change},
    }


def _qualify(agreed: Any, given: list[Any], rule: str, rules: Path | None) -> list[dict[str, Any]]:
    from marker.moderation.standard import qualify

    chosen, tolerance = options.qualifying_rule(rule, rules)
    told = []
    for marks in given:
        for found in qualify(agreed, marks, chosen, tolerance):
            out.print(f"{found.marker}: {'qualified' if found.qualified else 'not qualified'} ({chosen.name})", soft_wrap=True)
            for test in found.tests:
                out.print(f"  {'met' if test.met else 'not met'}: {test.asked}; found {test.found}", soft_wrap=True)
            told.append({"marker": found.marker, "met": found.qualified, "exact": round(found.figures.exact.value, 4)})
    return told


def _drift(agreed: Any, given: list[Any], rule: str, rules: Path | None) -> list[dict[str, Any]]:
    from marker.moderation.standard import check_drift

    chosen, tolerance = options.drift_rule(rule, rules)
    told = []
    for marks in given:
        for found in check_drift(agreed, marks, chosen, tolerance):
            where = "" if found.at is None else f" at control response {found.at}"
            out.print(f"{found.marker}: {'no drift' if found.at is None else 'drift'}{where}: {found.reason}", soft_wrap=True)
            told.append({"marker": found.marker, "met": found.at is None, "at": found.at, "reason": found.reason})
    return told
