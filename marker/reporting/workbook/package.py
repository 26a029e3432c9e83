"""The workbook's file: openpyxl's parts, with the value of each formula written beside it.

openpyxl leaves a formula without a value until a spreadsheet program computes it. Programs that only read values (previews,
data tools) would see nothing; so the values are put in here, and spreadsheet programs still compute anew on opening.
"""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from marker.reporting.workbook.pen import Cached, Value, cell_text

# A formula cell as openpyxl writes it: place, attributes, formula, empty value. Formula text is escaped, so it holds no "<".
_FORMULA_CELL = re.compile(r'<c r="([A-Z]+[0-9]+)"((?: s="[0-9]+")?)[^>]*>(<f[^>]*>[^<]*</f>)<v ?/?>(?:</v>)?</c>')
_WHEN = (1980, 1, 1, 0, 0, 0)


def save(book: Any, cached: Cached, path: Path) -> None:
    """Write the workbook to a path, formulas with their values."""
    from openpyxl.writer.excel import ExcelWriter

    book.calculation.fullCalcOnLoad = True
    raw = io.BytesIO()
    ExcelWriter(book, ZipFile(raw, "w", ZIP_STORED)).save()
    by_sheet: dict[str, dict[str, Value]] = {}
    for (sheet, cell), value in cached.items():
        by_sheet.setdefault(sheet, {})[cell] = value
    files = {f"xl/worksheets/sheet{n}.xml": by_sheet.get(sheet.title, {}) for n, sheet in enumerate(book.worksheets, start=1)}
    with ZipFile(raw) as source, ZipFile(path, "w", ZIP_DEFLATED) as target:
        for name in source.namelist():
            data = source.read(name)
            if files.get(name):
                data = _with_values(data.decode("utf-8"), files[name]).encode("utf-8")
            info = ZipInfo(name, _WHEN)
            info.compress_type = ZIP_DEFLATED
            target.writestr(info, data, compresslevel=6)


def _with_values(xml: str, values: dict[str, Value]) -> str:
    def filled(found: re.Match[str]) -> str:
        place, style, formula = found.groups()
        if place not in values:
            return found.group()
        kind, text = _value(values[place])
        return f'<c r="{place}"{style}{kind}>{formula}<v>{text}</v></c>'

    return _FORMULA_CELL.sub(filled, xml)


def _value(value: Value) -> tuple[str, str]:
    if isinstance(value, bool):
        return ' t="b"', str(int(value))
    if isinstance(value, int | float):
        return "", repr(value)
    return ' t="str"', escape(cell_text(value or ""))
