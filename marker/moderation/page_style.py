"""The look of the pages: system fonts, one accent, dark by preference, printable."""

STYLE = """
:root { --ink:#22303a; --quiet:#5e6b74; --accent:#1d5c63; --rule:#c9d1d4; --paper:#fff; --tint:#eef3f3; color-scheme: light dark; }
@media (prefers-color-scheme: dark) {
  :root { --ink:#e6ebec; --quiet:#a7b3b8; --accent:#7fc4c9; --rule:#3b474c; --paper:#161c1f; --tint:#1f282b; }
}
* { box-sizing: border-box; }
body { margin: 0 auto;
  max-width: 76rem;
  padding: 1.5rem 1.25rem 4rem;
  font: 1rem/1.5 system-ui, sans-serif;
  color: var(--ink); background: var(--paper); }
h1 { font-size: 1.6rem; color: var(--accent); margin: 0 0 .25rem; }
h2 { font-size: 1.15rem; color: var(--accent); margin: 2.25rem 0 .25rem; }
p.note { color: var(--quiet); margin: .25rem 0 .75rem; max-width: 60rem; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; font-size: .9rem; min-width: 30rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .75rem .3rem 0; border-bottom: 1px solid var(--rule); }
th { color: var(--quiet); font-weight: 600; vertical-align: bottom; border-bottom-width: 2px; }
td.number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
th.number { text-align: right; }
td.short { white-space: nowrap; }
td.text { max-width: 34rem; white-space: pre-wrap; overflow-wrap: anywhere; }
.verdict { border-left: .3rem solid var(--accent); background: var(--tint); padding: .6rem 1rem; margin: .75rem 0; max-width: 60rem; }
.verdict strong { display: block; }
.charts { display: grid; grid-template-columns: repeat(auto-fit, minmax(19rem, 1fr)); gap: 1.25rem; }
figure { margin: 0; } figcaption { font-weight: 600; margin-bottom: .25rem; }
svg { width: 100%; height: auto; } svg text { fill: var(--ink); font: 12px system-ui, sans-serif; }
svg .name, svg .label { fill: var(--quiet); } svg .axis { stroke: var(--quiet); } svg .grid { stroke: var(--rule); stroke-width: .6; }
svg .line { stroke: var(--ink); stroke-width: 1.4; } svg .bar { fill: var(--accent); opacity: .55; }
svg .dot { fill: var(--accent); fill-opacity: .35; stroke: var(--accent); stroke-width: 1.2; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .15rem 1rem; font-size: .9rem; }
dt { color: var(--quiet); }
dd { margin: 0; overflow-wrap: anywhere; }
@media print {
  body { max-width: none; padding: 0; font-size: 10pt; }
h2 { break-after: avoid; }
tr, figure { break-inside: avoid; }
.scroll { overflow: visible; }
}
"""
