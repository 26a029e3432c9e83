"""How fast lines are read, beside SymPy's own parser with implicit multiplication on the same lines.

    python -m tests.benchmarks.reading_speed [FILE ...]

FILE holds one line of working a line; without one, the notations of grammars/notation.toml are used. SymPy cannot read most
typed lines as they stand, so it is given each side of a relation on its own, with ^ as **, and only the lines all of whose sides it
reads are counted for both. Nothing is asserted here: the machine decides the figures.
"""

from __future__ import annotations

import gc
import re
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from marker.reading import lines as reading_lines
from marker.reading import sides
from marker.reading.lines import read_lines
from marker.reading.model import SymbolTable


def _candidates(arguments: Sequence[str]) -> list[str]:
    if arguments:
        return [line for name in arguments for line in Path(name).read_text(encoding="utf-8").splitlines() if line.strip()]
    import tomllib

    from marker.resources import grammar

    return [example["typed"] for group in tomllib.loads(grammar("notation.toml"))["group"] for example in group["example"]]


def _sympy_reader() -> Callable[[str], None]:
    from sympy.parsing.sympy_parser import convert_xor, implicit_multiplication_application, parse_expr, standard_transformations

    transformations = (*standard_transformations, convert_xor, implicit_multiplication_application)

    def read(line: str) -> None:
        for side in re.split("[=≈]", line):
            if side.strip():
                parse_expr(side.strip(), transformations=transformations)

    return read


def _readable(lines: Sequence[str], read: Callable[[str], None]) -> dict[str, float]:
    """Lines SymPy reads without an error, and the seconds its first reading of each took. These lines are examples, no candidate's."""
    kept: dict[str, float] = {}
    for line in lines:
        plain = line.replace("×", "*").replace("·", "*").replace("−", "-")
        start = time.process_time()
        try:
            read(plain)
        except Exception:
            continue
        kept.setdefault(plain, time.process_time() - start)
    return kept


def _seconds(action: Callable[[], object]) -> float:
    """Processor seconds, with the collector at rest as in timeit."""
    start = time.process_time()
    action()
    return time.process_time() - start


def _forget() -> None:
    for kept in (reading_lines.read_line, reading_lines._numbered, reading_lines._read_lines):
        kept.cache_clear()
    sides.forget()


def main(arguments: Sequence[str]) -> None:
    lines = list(dict.fromkeys(_candidates(arguments)))
    table = SymbolTable()
    sympy_read = _sympy_reader()
    sympy_read("a*b = 2 c")
    sympy_read("sqrt(2 g h)/sin(3 t) = 5.0^2")
    gc.disable()
    taken = _readable(lines, sympy_read)
    common, theirs = list(taken), sum(taken.values())
    for line in lines:  # the tables of units and words are made once a process, by lines that are not measured
        if line.replace("×", "*").replace("·", "*").replace("−", "-") not in taken:
            read_lines([line], table)
    _forget()
    ours = _seconds(lambda: [read_lines([line], table) for line in common])
    again = min(_seconds(lambda: [read_lines([line], table) for line in common]) for _ in range(3))
    _forget()
    everything = _seconds(lambda: [read_lines([line], table) for line in lines])
    gc.enable()
    print(f"{len(lines)} different lines, {everything / len(lines) * 1e6:.0f} µs a line")
    print(f"{len(common)} of them SymPy reads too:")
    print(f"  SymPy            {theirs / len(common) * 1e6:8.0f} µs a line")
    print(f"  distinct lines   {ours / len(common) * 1e6:8.0f} µs a line, {theirs / ours:6.1f} times as fast")
    print(f"  repeated lines   {again / len(common) * 1e6:8.1f} µs a line, {theirs / again:6.0f} times as fast")


if __name__ == "__main__":
    main(sys.argv[1:])
