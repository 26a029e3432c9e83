"""How fast a class is marked, beside a straightforward script on the same responses in the same run.

    python -m tests.benchmarks.marking_speed [CANDIDATES]

Six simple three-mark parts, each answered in three lines with the candidate's own typing habits. The script beside it does
what a first attempt does: SymPy's parser with implicit multiplication for every expression, `simplify` for whether a line is
equivalent to the relationship, pint for the answer's unit; one process. Each side has marked a little before the clock starts, so
that neither pays for its registries and tables: the script some of the very responses, ours one to a part that is not among them,
of which nothing can be remembered. A class types the same lines again and again; the ratio for responses no two of which are
alike is given apart. Times are the processor's, with the collector at rest as in timeit.

Then the demo's class is marked and its workbook written, both timed; the first marking of a run pays for everything, SymPy's import
too. It is marked again with scheme and responses read anew from their files: as they were, where parts that have not changed keep
their marked responses, and under another convention, by which every part must be marked anew. Only ratios are reported; nothing of
this runs in the test suite.
"""

from __future__ import annotations

import gc
import random
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from marker import build_paper, mark_class
from marker.classwork import mark_files
from marker.reporting import write_workbook

PARTS = (
    ("1", {"V": "7.5 V", "I": "1.5 A"}, "R", "ohm", "V = I*R", ("V = IR", "7.5 = 1.5{t}R", "R = {v} ohm"), 5.0),
    ("2", {"m": "4.0 kg", "a": "2.5 m/s^2"}, "F", "N", "F = m*a", ("F = ma", "F = 4.0{t}2.5", "F = {v} N"), 10.0),
    ("3", {"m": "2.0 kg", "v": "3.0 m/s"}, "E", "J", "E = m*v^2/2", ("E = 1/2mv^2", "E = 0.5{t}2.0{t}3.0^2", "E = {v} J"), 9.0),
    ("4", {"f": "50 Hz", "λ": "6.8 m"}, "v", "m/s", "v = f*λ", ("v = fλ", "v = 50{t}6.8", "v = {v} m/s"), 340.0),
    ("5", {"Q": "36 C", "t": "12 s"}, "I", "A", "Q = I*t", ("Q = It", "36 = I{t}12", "I = {v} A"), 3.0),
    ("6", {"F": "60 N", "A": "0.25 m^2"}, "p", "Pa", "p = F/A", ("p = F/A", "p = 60/0.25", "p = {v} Pa"), 240.0),
)


def scheme() -> dict[str, object]:
    parts = [
        {"name": name, "marks": 3, "given": given, "find": find, "unit": unit, "using": [equation]}
        for name, given, find, unit, equation, _, _ in PARTS
    ]
    return {"paper": {"title": "benchmark"}, "part": parts}


def responses(candidates: int) -> dict[tuple[str, str], tuple[str, ...]]:
    """Three lines a part; one candidate in five slips in the value; signs for times vary."""
    rng = random.Random(7)
    out = {}
    for c in range(candidates):
        sign = rng.choice((" × ", "*", " x ", "·"))
        for name, *_, lines, value in PARTS:
            shown = value * (1.1 if rng.random() < 0.2 else 1.0)
            out[(str(c), name)] = tuple(line.format(t=sign, v=f"{shown:.3g}") for line in lines)
    return out


def straightforward() -> Callable[[dict[tuple[str, str], tuple[str, ...]]], int]:
    """The script to compare with: every expression through SymPy's parser, every comparison through simplify."""
    import pint
    import sympy
    from sympy.parsing.sympy_parser import implicit_multiplication_application, parse_expr, standard_transformations

    rules = (*standard_transformations, implicit_multiplication_application)
    units = pint.UnitRegistry()
    letters = {n: sympy.Symbol(n) for n in ("V", "I", "R", "F", "m", "a", "E", "v", "f", "λ", "Q", "t", "p", "A")}

    def expression(text: str) -> object:
        text = text.replace("×", "*").replace("·", "*").replace(" x ", "*").replace("^", "**")
        return parse_expr(text, local_dict=letters, transformations=rules)

    def equation(text: str) -> object:
        left, right = text.split("=")
        return expression(left) - expression(right)  # type: ignore[operator]

    def mark(typed: dict[tuple[str, str], tuple[str, ...]]) -> int:
        total = 0
        for (_, name), lines in typed.items():
            _, given, find, unit, relation, _, _ = next(p for p in PARTS if p[0] == name)
            wanted = equation(relation)
            stated = equation(lines[0])
            ratio = sympy.simplify(stated / wanted)
            total += ratio.is_number is True
            known = {letters[s]: sympy.Float(q.split()[0]) for s, q in given.items()}
            answer = sympy.solve(wanted.subs(known), letters[find])[0]  # type: ignore[attr-defined]
            numbers = equation(lines[1])
            total += bool(sympy.simplify(numbers.subs({letters[find]: answer})) == 0 or abs(numbers.subs({letters[find]: answer})) < 0.01)  # type: ignore[attr-defined]
            value = units.Quantity(lines[2].split("=")[1].strip())
            total += value.check(units.Unit(unit).dimensionality) and abs(value.to(unit).magnitude - float(answer)) < 0.02 * float(answer)
        return total

    return mark


def warm_up() -> None:
    """One response marked to a part like those of PARTS and not among them."""
    part = {"name": "w", "marks": 3, "given": {"m": "5.0 kg", "V": "2.0 m^3"}, "find": "ρ", "unit": "kg/m^3", "using": ["ρ = m/V"]}
    lines = ("ρ = m/V", "ρ = 5.0/2.0", "ρ = 2.8 kg/m^3")
    mark_class(build_paper({"paper": {"title": "warm-up"}, "part": [part]}), ["0"], {("0", "w"): lines})


def timed(work: Callable[[], object]) -> float:
    """Processor seconds, with the collector at rest as in timeit."""
    gc.collect()
    gc.disable()
    began = time.process_time()
    work()
    taken = time.process_time() - began
    gc.enable()
    return taken


def main() -> None:
    candidates = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    typed = responses(candidates)
    paper = build_paper(scheme())
    names = [str(c) for c in range(candidates)]
    plain = straightforward()
    sample = dict(list(typed.items())[: max(6, len(typed) // 10)])
    plain(dict(list(typed.items())[:6]))
    warm_up()
    slow = timed(lambda: plain(sample)) / len(sample)
    first = timed(lambda: mark_class(paper, names, typed))
    cold, different = first / len(typed), first / len({(part, lines) for (_, part), lines in typed.items()})
    again = timed(lambda: mark_class(paper, names, typed)) / len(typed)
    print(f"{len(typed)} responses; the script was timed on {len(sample)} of them")
    print(f"responses a second, ours to the script's: {slow / cold:.0f} to 1 (first time), {slow / again:.0f} to 1 (marked again)")
    print(f"were no two of the responses alike: {slow / different:.1f} to 1")
    demo = Path(__file__).resolve().parents[2] / "rubrics" / "demo"
    files = demo / "scheme.toml", demo / "responses.csv"
    marked: list[object] = []
    with tempfile.TemporaryDirectory() as folder:
        first = timed(lambda: mark_files(*files))
        again = timed(lambda: marked.append(mark_files(*files)[0]))
        turned = timed(lambda: mark_files(*files, convention="answer first"))
        writing = timed(lambda: write_workbook(Path(folder) / "marks.xlsx", marked[0]))  # type: ignore[arg-type]
    print("the demo class, beside what writing its workbook takes:")
    for label, taken in (("for the first time", first), ("again", again), ("under another convention", turned)):
        print(f"  marked {label} {taken / writing:.2f}")


if __name__ == "__main__":
    main()
