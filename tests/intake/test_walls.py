"""Intake knows nothing of marking (design, section 3): its modules import no other room."""

import ast
from pathlib import Path

import marker.intake

ALLOWED = ("marker.intake", "marker.errors")


def test_intake_imports_no_other_room() -> None:
    folder = Path(marker.intake.__file__).parent
    modules = sorted(folder.glob("*.py"))
    assert len(modules) >= 8
    for module in modules:
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("marker"):
                assert (node.module or "").startswith(ALLOWED), (module.name, node.module)
            if isinstance(node, ast.Import):
                assert all(a.name.startswith(ALLOWED) or not a.name.startswith("marker") for a in node.names), module.name
