"""A spreadsheet program as the outside judge of our formulas: LibreOffice computes the workbook, and we read what it got."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest
from python_calamine import CalamineWorkbook

SOFFICE = shutil.which("soffice")
needs_office = pytest.mark.skipif(SOFFICE is None, reason="LibreOffice (soffice) is not installed; formulas cannot be computed")

Values = dict[str, list[list[Any]]]


def computed(path: Path, folder: Path) -> Values:
    """Sheet -> rows of values, after LibreOffice has computed every formula anew.

    The file given must hold no values beside its formulas (openpyxl leaves none when it saves), so none can be taken over.
    """
    assert SOFFICE is not None
    out = folder / "computed"
    command = [SOFFICE, f"-env:UserInstallation=file://{folder / 'profile'}", "--headless", "--convert-to", "xlsx", "--outdir", str(out)]
    subprocess.run([*command, str(path)], check=True, capture_output=True, timeout=180)
    return values(out / path.name)


def values(path: Path) -> Values:
    """Sheet -> rows of values as the file holds them, from cell A1."""
    book = CalamineWorkbook.from_path(str(path))
    return {name: book.get_sheet_by_name(name).to_python(skip_empty_area=False) for name in book.sheet_names}
