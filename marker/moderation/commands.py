"""`marker moderate …`: options in, one library call, a short printed result. Heavy libraries load inside the command that needs them."""

from __future__ import annotations

import functools
import secrets
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any, ParamSpec

import typer

from marker.errors import MarkerError
from marker.moderation import defaults
from marker.moderation.console import complain, say, show_table
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
Also = Annotated[list[Path] | None, typer.Option("--file", help="Further file for the record, such as the scheme; may be repeated.")]
Missing = Annotated[bool, typer.Option(help="Pass over cells without a mark instead of refusing.")]
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
            complain(str(error))
            raise typer.Exit(2) from None

    return told


@app.command()
@refusals
def sample(
    marks: Marks,
    output: Annotated[Path, typer.Option("--output", "-o", help="Workbook for the second marker; one for each, when there are several.")],
    rule: Annotated[str, typer.Option(help="Sampling rule by name (see: marker moderate rules).")] = defaults.SAMPLING,
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
    missing: Missing = False,
    rules: Rules = None,
    log: Log = None,
    who: Who = "",
    file: Also = None,
) -> None:
    """Draw a sample by a published rule and write blind workbooks for second markers."""
    from marker.moderation import options
    from marker.moderation.allocation import allocate
    from marker.moderation.entries import sample_entry
    from marker.moderation.names import second_markers
    from marker.moderation.sample_files import write_sample
    from marker.moderation.sampling import draw_sample

    _must_name(log, who)
    if step not in (1.0, 0.5):
        refuse_one("--step", f"{step:g} is not a step of marks", expected="1 or 0.5")
    first = _first(marks, records, classes, missing)
    number = secrets.randbelow(10**6) if draw is None else draw
    found = draw_sample(first, options.sampling_rule(rule, rules), number, always or (), part or ())
    markers = second_markers(to or ())
    given = allocate(found, first, markers, copies, common)
    books, keyed = write_sample(output, key, found, given, first, step)
    shares = ", ".join(f"{name} {len(drawn)}" for name, drawn in given.items())
    say(f"{len(found.drawn)} of {len(first.candidates)} candidates, {len(found.responses)} responses. Draw {number}.")
    say(f"Rule: {found.rule.name}. Scripts for: {shares}.")
    say(f"Written: {', '.join(map(str, books))}. Key, not for the second markers: {keyed}.")
    _record(log, who, "sample", sample_entry(first, found, given), [marks, *books, keyed, *(file or ())])


@app.command()
@refusals
def compare(
    marks: Marks,
    seconds: Annotated[list[Path] | None, typer.Argument(help="Second marks: filled-in workbooks, records, or tables.")] = None,
    output: Annotated[Path | None, typer.Option("--output", "-o", help="Report workbook.", show_default=False)] = None,
    page: Page = None,
    rule: Annotated[str, typer.Option(help="Rule of decision by name.")] = defaults.DECISION,
    anchor: Annotated[str, typer.Option(help="What parts are held against: calculation or written.")] = defaults.ANCHOR,
    first: Annotated[str, typer.Option(help="Whose marks count as first, when one table holds several markers.", show_default=False)] = "",
    key: Annotated[Path | None, typer.Option(help="Key of the sample, for a rule with scripts checked first.", show_default=False)] = None,
    missing: Missing = False,
    title: Annotated[str, typer.Option(help="Title of the report.", show_default="the file of the first marks")] = "",
    classes: Classes = None,
    records: Records = None,
    rules: Rules = None,
    log: Log = None,
    who: Who = "",
    file: Also = None,
    strict: Strict = False,
) -> None:
    """Compare first marks with second marks: agreement, bias, a decision by rule, adjusted marks, and what to look at again."""
    from marker.moderation.extra import need_statistics

    _must_name(log, who)
    need_statistics()
    from marker.moderation import options
    from marker.moderation.blind import read_checked_first
    from marker.moderation.entries import comparison_entry
    from marker.moderation.printing import print_report
    from marker.moderation.report import make_report, needs_person
    from marker.moderation.report_files import write_files
    from marker.moderation.source import load_marks

    chosen = options.decision_rules(rule, anchor, rules)
    lead = _first(marks, records, classes, missing)
    others = [load_marks(p, like=lead, missing=missing) for p in seconds or ()]
    report = make_report(
        lead,
        others,
        rule=chosen.rule,
        tolerance=chosen.tolerance,
        anchor=chosen.anchor,
        title=title or lead.facts.get("Class test", marks.stem),
        first_marker=first,
        checked_first=read_checked_first(key) if key else (),
        made_by=[*lead.facts.items(), *_made_by([marks, *(seconds or ())])],
    )
    files = write_files(report, output, page)
    print_report(report, files)
    _record(log, who, "comparison", comparison_entry(lead, report), [marks, *(seconds or ()), *files, *(file or ())])
    if strict and needs_person(report):
        raise typer.Exit(1)


@app.command()
@refusals
def items(
    marks: Marks,
    output: Annotated[Path | None, typer.Option("--output", "-o", help="Workbook of the item analysis.", show_default=False)] = None,
    page: Page = None,
    boundary: Annotated[list[str] | None, typer.Option(help="Grade and its least mark, A=30; may be repeated.")] = None,
    missing: Missing = False,
    title: Annotated[str, typer.Option(help="Title.", show_default="the file of the marks")] = "",
    records: Records = None,
    rules: Rules = None,
) -> None:
    """Facility, discrimination, consistency, wrong answers, and what other grade boundaries would give."""
    from marker.moderation.extra import need_statistics

    need_statistics()
    from marker.moderation import items as analysis
    from marker.moderation import options
    from marker.moderation.items_report import write_items, write_items_page
    from marker.moderation.names import boundaries
    from marker.moderation.printing import print_items
    from marker.moderation.source import load_marks

    loaded = load_marks(marks, records=records, missing=missing)
    found = analysis.analyse(loaded, options.item_rules(rules))
    limits = boundaries(boundary or (), loaded.maximum)
    what_if = analysis.boundaries([t for _, t in found.totals], limits, found.paper.sem)
    name = title or loaded.facts.get("Class test", marks.stem)
    if output is not None:
        write_items(output, name, found, what_if)
    if page is not None:
        write_items_page(page, name, found, what_if)
    print_items(found, [p for p in (output, page) if p is not None])


@app.command()
@refusals
def standardise(
    agreed: Annotated[Path, typer.Argument(help="Agreed marks of the practice or control responses.", show_default=False)],
    marks: Annotated[list[Path], typer.Argument(help="Marks of the markers: tables, or filled-in workbooks.", show_default=False)],
    rule: Annotated[str, typer.Option(help="Qualifying rule (with --drift: rule of drift) by name.")] = defaults.QUALIFYING,
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
        complain(problem.sentence())
    for n, name in found.changed:
        say(f"Note: {name} is not as it was when entry {n} was written.")
    if not found.whole:
        complain(f"{log.name} is not whole.")
        raise typer.Exit(2)
    last = found.entries[-1]
    say(f"{log.name} is whole: {len(found.entries)} entries, the last by {last.who} on {last.when}.")
    say(f"Digest of the last entry: {found.head}")


@app.command("rules")
@refusals
def list_rules() -> None:
    """The shipped rules by name, each with its source."""
    from marker.moderation import options

    show_table(("Kind", "Name", "Source"), options.listed())


def _must_name(log: Path | None, who: str) -> None:
    if log is not None and not who.strip():
        refuse_one("--log", "an entry in the record needs the person who did it", mend="Add --who.")


def _first(marks: Path, records: Path | None, classes: Path | None, missing: bool) -> Any:
    from marker.moderation.source import load_marks, read_classes

    found = load_marks(marks, records=records, missing=missing)
    return read_classes(classes, found) if classes is not None else found


def _record(log: Path | None, who: str, what: str, data: dict[str, Any], files: list[Path]) -> None:
    if log is None:
        return
    from marker.moderation import record

    when = datetime.now().astimezone().isoformat(timespec="seconds")
    entry = record.append(log, when=when, who=who, what=what, data=data, files=files)
    say(f"Entry {entry.n} in {log.name}, digest {entry.digest[:16]}.")


def _made_by(files: list[Path]) -> list[tuple[str, str]]:
    from marker.moderation.record import file_digest

    return [(f.name, f"SHA-256 {file_digest(f)}") for f in files]


def _qualify(agreed: Any, given: list[Any], rule: str, rules: Path | None) -> list[dict[str, Any]]:
    from marker.moderation import options
    from marker.moderation.printing import print_qualification
    from marker.moderation.standard import qualify

    chosen, tolerance = options.qualifying_rule(rule, rules)
    results = [found for marks in given for found in qualify(agreed, marks, chosen, tolerance)]
    for found in results:
        print_qualification(found)
    return [{"marker": f.marker, "met": f.qualified, "exact": round(f.figures.exact.value, 4)} for f in results]


def _drift(agreed: Any, given: list[Any], rule: str, rules: Path | None) -> list[dict[str, Any]]:
    from marker.moderation import options
    from marker.moderation.printing import print_drift
    from marker.moderation.standard import check_drift

    chosen, tolerance = options.drift_rule(rule, rules)
    results = [found for marks in given for found in check_drift(agreed, marks, chosen, tolerance)]
    for found in results:
        print_drift(found)
    return [{"marker": f.marker, "met": f.at is None, "at": f.at, "reason": f.reason} for f in results]
