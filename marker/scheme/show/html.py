"""Marking instructions as one page that needs nothing else: styles inside, mathematics in MathML, made to be printed."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from marker.scheme.show.model import AnswerView, LineView, PartView, PointView, RulingView, SchemeView

STYLE = """
:root { --ink:#1f2a2e; --quiet:#5b686d; --accent:#275d55; --rule:#d5dcda; --wash:#f4f7f5; --paper:#fff; color-scheme: light; }
@media (prefers-color-scheme: dark) {
  :root { --ink:#e4e9e7; --quiet:#a3b0ad; --accent:#86c5b8; --rule:#38443f; --wash:#1d2523; --paper:#151b19; color-scheme: dark; }
}
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 54rem; padding: 2.5rem 1.5rem 5rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.55 Charter, "Bitstream Charter", "Sitka Text", Cambria, Georgia, serif; }
header { border-bottom: 2px solid var(--accent); padding-bottom: .9rem; margin-bottom: 1.75rem; }
h1 { font-size: 1.65rem; line-height: 1.2; margin: 0 0 .3rem; }
header p, .quiet { color: var(--quiet); margin: 0; font-size: .92rem; }
nav { font-size: .92rem; margin: 0 0 2rem; display: flex; flex-wrap: wrap; gap: .15rem .9rem; }
nav a { color: var(--accent); text-decoration: none; padding: .25rem 0; }
nav a:hover, nav a:focus { text-decoration: underline; }
section { border-top: 1px solid var(--rule); padding: 1.1rem 0 1.4rem; }
section h2 { display: flex; gap: 1rem; align-items: baseline; font-size: 1.15rem; margin: 0 0 .35rem; }
h2 .worth { margin-left: auto; font-weight: 400; color: var(--quiet); font-size: .95rem; white-space: nowrap; }
h3 { font-size: .92rem; margin: 1rem 0 .25rem; color: var(--quiet); font-weight: 600; }
.stem { margin: 0 0 .5rem; max-width: 44rem; } .given { color: var(--quiet); margin: 0 0 .75rem; font-size: .95rem; }
.given span { white-space: nowrap; margin-right: 1.1rem; }
table { border-collapse: collapse; width: 100%; } td, th { text-align: left; vertical-align: baseline; padding: .32rem .6rem .32rem 0; }
.working td { border-bottom: 1px solid var(--rule); } .working tr:last-child td { border-bottom: 0; }
.working td.earns { width: 5.5rem; text-align: right; white-space: nowrap; padding-right: 0; }
.mark { display: inline-block; min-width: 1.7em; padding: 0 .4em; border: 1px solid var(--accent); border-radius: .8em;
  color: var(--accent); font-size: .82rem; text-align: center; font-variant-numeric: tabular-nums; }
.points td, .points th, .rulings td, .rulings th { font-size: .92rem; border-bottom: 1px solid var(--rule); }
.points th, .rulings th { color: var(--quiet); font-weight: 600; }
.points td:first-child { width: 2.6rem; } td.number, th.number { text-align: right; width: 4rem; padding-right: 0; white-space: nowrap; }
.answer { background: var(--wash); border-left: 3px solid var(--accent); padding: .55rem .9rem; margin: .8rem 0; }
.answer p { margin: .1rem 0; } .answer .accepted { color: var(--quiet); font-size: .95rem; }
ul { margin: .25rem 0; padding-left: 1.15rem; } li { margin: .12rem 0; max-width: 44rem; }
.rulings td:first-child { white-space: nowrap; } .replaced td { font-weight: 600; }
.rulings .meaning { color: var(--quiet); font-weight: 400; }
math { font-family: "STIX Two Math", "Cambria Math", "Latin Modern Math", math; font-size: 1.06em; }
@media (max-width: 34rem) { body { padding: 1.25rem 1rem 3rem; } .working td.earns { width: 3.6rem; }
  .rulings .meaning, .rulings th:last-child { display: none; } .scroll { overflow-x: auto; } }
@media print { @page { margin: 18mm 16mm; } body { max-width: none; padding: 0; font-size: 10.5pt; color-scheme: light; }
  nav { display: none; } section { break-inside: avoid-page; } section.long { break-inside: auto; } tr, .answer { break-inside: avoid; }
  h2, h3 { break-after: avoid; } a { color: inherit; text-decoration: none; } }
"""


def scheme_page(view: SchemeView) -> str:
    """The whole page as text (HTML 5). Everything a teacher typed is escaped."""
    parts = "\n".join(_part(p) for p in view.parts)
    links = "".join(f'<a href="#{_anchor(p)}">{escape(p.name)}</a>' for p in view.parts)
    return f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(view.title)}: marking instructions</title>
<style>{STYLE}</style>
</head>
<body>
<header>
<h1>{escape(view.title)}</h1>
<p>Marking instructions · {escape(view.maximum)} marks · convention: {escape(view.convention)}</p>
</header>
<nav aria-label="Parts">{links}<a href="#rulings">Rulings</a></nav>
<main>
{parts}
{_rulings(view.rulings)}
</main>
</body>
</html>
"""


def _anchor(part: PartView) -> str:
    return "part-" + "".join(c if c.isalnum() else "-" for c in part.name)


def _part(part: PartView) -> str:
    pieces = [
        f'<section id="{_anchor(part)}"{" class=long" if len(part.lines) > 14 else ""}>',
        f'<h2>{escape(part.name)}<span class="worth">{_marks(part.marks)}</span></h2>',
        f'<p class="stem">{escape(part.stem)}</p>' if part.stem else "",
        _given(part.given),
        _working(part.lines),
        "".join(_answer(a) for a in part.answers),
        _points(part.points),
        "".join(f"<h3>Another method: {escape(r.name)}</h3>{_working(r.lines)}" for r in part.routes),
        _list("Guidance", part.guidance),
        _replaced(part.rulings),
        "</section>",
    ]
    return "\n".join(p for p in pieces if p)


def _marks(marks: str) -> str:
    return f"{escape(marks)} mark" + ("" if marks == "1" else "s")


def _given(given: Iterable[tuple[str, str]]) -> str:
    inner = "".join(f"<span>{mathml} = {escape(text)}</span> " for mathml, text in given)
    return f'<p class="given">Given: {inner}</p>' if inner else ""


def _working(lines: Iterable[LineView]) -> str:
    rows = "\n".join(f'<tr><td>{x.mathml or escape(x.text)}</td><td class="earns">{_earned(x)}</td></tr>' for x in lines)
    return f'<div class="scroll"><table class="working">\n{rows}\n</table></div>' if rows else ""


def _earned(line: LineView) -> str:
    return " ".join(f'<span class="mark" title="earns point {escape(n)}">{escape(n)}</span>' for n, _ in line.points)


def _answer(answer: AnswerView) -> str:
    label = f"({escape(answer.label)}) " if answer.label else ""
    details = " · ".join(x for x in (f"accepted: {answer.accepted}" if answer.accepted else "", answer.figures) if x)
    second = f'<p class="accepted">{escape(details)}</p>' if details else ""
    return f'<div class="answer"><p>{label}{answer.mathml}</p>{second}</div>'


def _points(points: Iterable[PointView]) -> str:
    rows = "\n".join(
        f'<tr><td><span class="mark">{escape(p.label)}</span></td><td>{escape(p.what)}</td><td>{escape(p.type)}'
        f'{f"; needs {escape(p.needs)}" if p.needs else ""}</td><td class="number">{escape(p.marks)}</td></tr>'
        for p in points
    )
    if not rows:
        return ""
    head = '<tr><th>Point</th><th>For</th><th>Type</th><th class="number">Marks</th></tr>'
    return f'<h3>Points</h3>\n<div class="scroll"><table class="points">\n{head}\n{rows}\n</table></div>'


def _list(title: str, items: Iterable[str]) -> str:
    inner = "\n".join(f"<li>{escape(i)}</li>" for i in items)
    return f"<h3>{escape(title)}</h3>\n<ul>\n{inner}\n</ul>" if inner else ""


def _replaced(rulings: Iterable[RulingView]) -> str:
    return _list("Rulings of this part", [f"{r.name}: {r.value}" for r in rulings])


def _rulings(rulings: Iterable[RulingView]) -> str:
    rows = "\n".join(
        f"<tr{' class=replaced' if r.replaced else ''}><td>{escape(r.name)}</td><td>{escape(r.value)}</td>"
        f'<td class="meaning">{escape(r.meaning)}</td></tr>'
        for r in rulings
    )
    head = "<tr><th>Ruling</th><th>Here</th><th>What it decides</th></tr>"
    note = '<p class="quiet">Bold: replaced for this paper.</p>'
    table = f'<table class="rulings">\n{head}\n{rows}\n</table>'
    return f'<section id="rulings" class="long">\n<h2>Rulings in force</h2>\n{note}\n{table}\n</section>'
