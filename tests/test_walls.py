"""The walls of the house: which room may import which, and what the package offers. Common practice, no source."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import marker

PACKAGE = Path(marker.__file__).parent

LATER = ("marker.judging", "marker.awarding", "marker.intake", "marker.reporting", "marker.web", "openpyxl", "typer")

# room -> rooms and libraries it must not know
FORBIDDEN = {
    "reading": (*LATER, "marker.scheme", "marker.kinds"),
    "physics": (*LATER, "marker.scheme", "marker.kinds"),
    "judging": ("marker.awarding", "marker.kinds", "marker.intake", "marker.reporting", "marker.web", "openpyxl", "typer", "rich"),
    "awarding": ("marker.intake", "marker.reporting", "marker.web", "marker.moderation", "openpyxl", "typer", "rich"),
    "intake": ("marker.judging", "marker.awarding", "marker.reading", "marker.physics", "marker.web"),
    "reporting": ("marker.judging", "marker.awarding", "marker.reading", "marker.physics", "marker.web", "typer"),
    "moderation": ("marker.judging", "marker.awarding", "marker.reading", "marker.physics", "marker.web"),
}


def imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (a.name for a in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module


@pytest.mark.parametrize("room", FORBIDDEN)
def test_room_does_not_know(room: str) -> None:
    files = sorted((PACKAGE / room).rglob("*.py"))
    assert files
    allowed = {"commands.py"} if room == "moderation" else set()
    found = {
        f"{path.relative_to(PACKAGE)}: {name}"
        for path in files
        if path.name not in allowed
        for name in imports(path)
        for wall in FORBIDDEN[room]
        if name == wall or name.startswith(wall + ".")
    }
    assert not found


def test_no_text_reaches_an_evaluator() -> None:
    calls = set()
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "id", getattr(node.func, "attr", ""))
                if name in {"eval", "exec", "sympify", "parse_expr", "lambdify"}:
                    calls.add(f"{path.name}:{node.lineno} {name}")
    assert not calls


def test_public_names_are_there() -> None:
    assert sorted(marker.__all__) == list(marker.__all__)
    assert all(hasattr(marker, name) for name in marker.__all__)
    assert len(marker.__all__) <= 25


def test_core_does_not_wait_for_heavy_libraries() -> None:
    """Reading a line must not wait for SymPy, pint, pandas or openpyxl."""
    import subprocess
    import sys

    code = (
        "import sys; from marker.reading import read_lines; from marker.reading.model import SymbolTable;"
        "read_lines(['F = 0.36 x 7.5 = 2.7 N'], SymbolTable());"
        "print([m for m in ('sympy','pint','pandas','openpyxl','scipy','numpy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=PACKAGE.parent)
    assert done.stdout.strip() == "[]"
