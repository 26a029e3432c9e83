"""What `marker scheme` prints: tables with colour in a terminal, plain aligned text in a pipe."""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterable, Sequence

import typer

from marker.scheme.checking import Came, PartProof, Proof, Remark, Trial

_HEADS = ("Part", "Response", "Should earn", "Earns", "")
_CAME = {Came.AS_RULED: "✓", Came.DIFFERS: "✗ differs", Came.HIDDEN: "○ accepted all the same", Came.REFERRED: "? referred"}


def show_table(heads: Sequence[str], rows: Iterable[Sequence[str]], right: Sequence[int] = ()) -> None:
    """A table; `right` are the columns of numbers. Typed text is never taken for markup, and nothing is cut short."""
    body = [tuple(r) for r in rows]
    if sys.stdout.isatty():
        _rich_table(heads, body, right)
        return
    widths = [max(len(r[i]) for r in (heads, *body)) for i in range(len(heads))]
    for row in (heads, *body):
        cells = (c.rjust(w) if i in right else c.ljust(w) for i, (c, w) in enumerate(zip(row, widths, strict=True)))
        typer.echo("  ".join(cells).rstrip())


def _rich_table(heads: Sequence[str], body: Sequence[Sequence[str]], right: Sequence[int]) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(box=None, pad_edge=False, header_style="bold")
    for place, head in enumerate(heads):
        table.add_column(head, justify="right" if place in right else "left", overflow="fold")
    for row in body:
        style = "red" if any(c.startswith("✗") for c in row) else "yellow" if any(c.startswith(("○", "?")) for c in row) else ""
        table.add_row(*(Text(c, style=style) for c in row))
    Console(highlight=False, markup=False).print(table)


def print_proof(proof: Proof, every: bool) -> None:
    """A proof: the parts and their answers, the rulings, what to mend, and the verdict. `every` lists the mistakes and responses tried."""
    typer.echo(f"{proof.title}: {len(proof.parts)} parts, {proof.maximum:g} marks; convention: {proof.convention}")
    typer.echo("")
    show_table(("Part", "Marks", "Answer", "Model answers", "Mistakes as ruled", ""), map(_part_row, proof.parts), right=(1, 3, 4))
    if every:
        typer.echo("")
        _print_faults(proof)
        _print_surprises([t for t in proof.trials if not t.fails])
        typer.echo("\nEvery response tried:")
        show_table(_HEADS, map(_trial_row, proof.trials), right=(2, 3))
    _print_rulings(proof)
    _print_notes(proof)
    _print_remarks("\nTo mend:", [r for r in proof.remarks if r.fails])
    _print_remarks("\nTo consider:", [r for r in proof.remarks if not r.fails])
    typer.echo(f"\n{_verdict(proof)}")


# heading, what the teacher can do about it, and which trials are meant
_SURPRISES: tuple[tuple[str, Callable[[Trial], bool]], ...] = (
    (
        "A mistake that does not show: the answer lies in the accepted range all the same. Nothing need be done; narrow the range, or\n"
        "change a datum, if an answer alone should show it.",
        lambda t: t.came is Came.HIDDEN,
    ),
    ("Would be referred to you, with the possible marks: nothing need be done.", lambda t: t.came is Came.REFERRED),
    (
        "Would earn less than the convention gives for such a mistake. The scheme is not at fault;\n"
        "look at low marks for working like this.",
        lambda t: t.came is Came.DIFFERS and t.mark < t.expected,
    ),
    (
        "Would earn more than the convention gives for such a mistake. The scheme is not at fault;\n"
        "look at high marks for working like this.",
        lambda t: t.came is Came.DIFFERS and t.mark > t.expected,
    ),
)


def _print_surprises(trials: Sequence[Trial]) -> None:
    """Made-up responses that did not earn what the convention says, by what the teacher can do about them."""
    for heading, meant in _SURPRISES:
        rows = [(*_trial_row(t)[:4], " / ".join(t.lines)) for t in trials if meant(t)]
        if rows:
            typer.echo(f"\n{heading}")
            show_table((*_HEADS[:4], "Typed as"), rows, right=(2, 3))


def _print_rulings(proof: Proof) -> None:
    """What the teacher compares with the paper's own instructions."""
    if not proof.rulings:
        return
    typer.echo("\nThe paper is marked like this. Where your instructions say otherwise, write one of the other options under [paper],")
    typer.echo('such as rulings = { answer_only = "none" }. `marker scheme rulings` explains these and the rest.')
    for ruling in proof.rulings:
        typer.echo(f"  {ruling.says}")
        others = f"; or {', '.join(ruling.others)}" if ruling.others else ""
        typer.echo(f"      {ruling.name} = {ruling.value}{others}")


def _print_notes(proof: Proof) -> None:
    said = [f"  part {part.part}: {note}" for part in proof.parts for note in part.notes]
    if said:
        typer.echo("\n".join(["\nHow it is marked:", *said]))


def _verdict(proof: Proof) -> str:
    """Whether anything is to be done before marking, and what the figures mean."""
    tried, differ = len(proof.trials), sum(t.came in (Came.DIFFERS, Came.REFERRED) for t in proof.trials)
    if not proof.passes:
        return f"The scheme does not pass: mend what stands under “To mend”. {tried} responses tried, {differ} not as ruled."
    if not differ:
        return f"The scheme passes. Nothing need be done. {tried} responses tried, all as ruled."
    return (
        f"The scheme passes. Nothing need be done before marking. {tried} made-up responses tried, {tried - differ} marked as ruled;"
        " --all lists them."
    )


def _part_row(part: PartProof) -> tuple[str, ...]:
    models = [t for t in part.trials if not t.code]
    faults = [t for t in part.trials if t.code]
    right = sum(t.came is Came.AS_RULED for t in models)
    ruled = f"{sum(t.came is Came.AS_RULED for t in faults)} of {len(faults)}" if faults else "none tried"
    return (part.part, f"{part.marks:g}", part.answer, f"{right} of {len(models)}", ruled, "✓" if part.passes else "✗ to mend")


def _print_faults(proof: Proof) -> None:
    """One row a fault: how often it was tried, and how it came out."""
    from marker.judging.known_faults import known_faults

    names = {f.code: (f.name, f.family) for f in known_faults()}
    counts: dict[str, Counter[Came]] = {}
    for trial in proof.trials:
        if trial.code:
            counts.setdefault(trial.code, Counter())[trial.came] += 1
    if not counts:
        return
    rows = []
    for code in (c for c in names if c in counts):
        found = counts[code]
        differs = found[Came.DIFFERS] + found[Came.REFERRED]
        worst = "" if differs else "○" if found[Came.HIDDEN] else "✓"
        cells = (str(sum(found.values())), str(found[Came.AS_RULED]), str(found[Came.HIDDEN] or "–"), str(differs or "–"))
        rows.append((names[code][0], names[code][1], *cells, worst))
    show_table(("Fault", "Class", "Tried", "As ruled", "Same answer", "Differs", ""), rows, right=(2, 3, 4, 5))


def _trial_row(trial: Trial) -> tuple[str, ...]:
    return (trial.part, trial.what, f"{trial.expected:g}", f"{trial.mark:g}", _CAME[trial.came])


def _print_remarks(heading: str, remarks: Sequence[Remark]) -> None:
    if remarks:
        typer.echo(heading)
        for remark in remarks:
            typer.echo(f"  {remark.problem.sentence()}")
