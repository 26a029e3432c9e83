"""Reporting does not know how marks were reached (design, section 3): it imports results and files' rooms, none of the marking ones."""

import ast
from pathlib import Path

import marker.reporting

ALLOWED = ("marker.reporting", "marker.results", "marker.errors", "marker.resources", "marker.intake.typed")
LAZY = ("openpyxl", "jinja2", "python_calamine")


def test_reporting_imports_no_marking_room_and_nothing_heavy_at_once() -> None:
    folder = Path(marker.reporting.__file__).parent
    modules = sorted(folder.rglob("*.py"))
    assert len(modules) >= 20
    for module in modules:
        tree = ast.parse(module.read_text(encoding="utf-8"))
        names = [n.module or "" for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)]
        names += [a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names]
        assert [n for n in names if n.startswith("marker") and not n.startswith(ALLOWED)] == [], module.name
        at_once = [n.module or "" for n in tree.body if isinstance(n, ast.ImportFrom)] + [
            a.name for n in tree.body if isinstance(n, ast.Import) for a in n.names
        ]
        assert [n for n in at_once if n.split(".")[0] in LAZY] == [], module.name
