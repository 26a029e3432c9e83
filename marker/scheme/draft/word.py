"""The text of a Word file, paragraph by paragraph, with its equations written on one line."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from xml.etree import ElementTree

from marker.errors import Problem, SchemeError

_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_M = "{http://schemas.openxmlformats.org/officeDocument/2006/math}"
_BODY = "word/document.xml"
_LARGEST = 20_000_000
_SIMPLE = re.compile(r"\w+|\d+(?:\.\d+)?")


def word_lines(path: Path) -> list[str]:
    """Lines of a .docx file: paragraphs, line breaks and table rows. Raises SchemeError when it cannot be read as one."""
    try:
        with zipfile.ZipFile(path) as archive:
            if archive.getinfo(_BODY).file_size > _LARGEST:
                raise SchemeError(
                    Problem(where=str(path), seen="the document is too large", mend="Paste the questions into a shorter file.")
                )
            data = archive.read(_BODY)
    except (zipfile.BadZipFile, KeyError, OSError) as error:
        raise SchemeError(
            Problem(where=str(path), seen="it cannot be opened as a Word file", mend="Save it as .docx, or as text.")
        ) from error
    if b"<!DOCTYPE" in data[:4096] or b"<!ENTITY" in data:
        raise SchemeError(Problem(where=str(path), seen="the document declares entities of its own", mend="Save it again as .docx."))
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as error:
        raise SchemeError(Problem(where=str(path), seen="the document inside is damaged", mend="Save it again as .docx.")) from error
    return [line.strip() for block in _blocks(root) for line in block.split("\n")]


def _blocks(root: ElementTree.Element) -> Iterator[str]:
    """Paragraphs in order; the cells of a table row on one line."""
    body = root.find(f"{_W}body")
    for node in body if body is not None else ():
        if node.tag == f"{_W}p":
            yield _paragraph(node)
        elif node.tag == f"{_W}tbl":
            for row in node.iter(f"{_W}tr"):
                cells = (" ".join(_paragraph(p) for p in cell.iter(f"{_W}p")) for cell in row.iter(f"{_W}tc"))
                yield "   ".join(cells)


def _paragraph(node: ElementTree.Element) -> str:
    out: list[str] = []
    _gather(node, out)
    return "".join(out)


def _gather(node: ElementTree.Element, out: list[str]) -> None:
    for child in node:
        if child.tag == f"{_W}t":
            out.append(child.text or "")
        elif child.tag in (f"{_W}tab", f"{_W}noBreakHyphen"):
            out.append(" " if child.tag.endswith("tab") else "-")
        elif child.tag in (f"{_W}br", f"{_W}cr"):
            out.append("\n")
        elif child.tag == f"{_M}oMath":
            out.append(linear(child))
        elif child.tag == f"{_W}r":
            _run(child, out)
        elif child.tag != f"{_W}del":
            _gather(child, out)


def _run(run: ElementTree.Element, out: list[str]) -> None:
    """A run of characters; one raised or lowered by its formatting is written with ^ or _."""
    placed = run.find(f"{_W}rPr/{_W}vertAlign")
    how = placed.get(f"{_W}val") if placed is not None else None
    inner: list[str] = []
    _gather(run, inner)
    text = "".join(inner)
    if how == "superscript" and text.strip():
        text = f"^{text.strip()}" if _SIMPLE.fullmatch(text.strip()) else f"^({text.strip()})"
    elif how == "subscript" and text.strip():
        text = f"_{text.strip()}"
    out.append(text)


# --- equations ------------------------------------------------------------------------------------------


def linear(node: ElementTree.Element) -> str:
    """An equation of the document on one line: (a)/(b), x^2, v_0, sqrt(2gh)."""
    return "".join(_piece(child) for child in node)


def _piece(node: ElementTree.Element) -> str:
    handler = _PIECES.get(node.tag.removeprefix(_M))
    if handler is not None and node.tag.startswith(_M):
        return handler(node)
    return "" if node.tag.endswith("Pr") else linear(node)


def _part(node: ElementTree.Element, name: str) -> str:
    found = node.find(f"{_M}{name}")
    return linear(found).strip() if found is not None else ""


def _held(text: str) -> str:
    return text if _SIMPLE.fullmatch(text) else f"({text})"


def _root(node: ElementTree.Element) -> str:
    degree = _part(node, "deg")
    inner = _part(node, "e")
    return f"sqrt({inner})" if degree in ("", "2") else f"({inner})^(1/{degree})"


def _bracketed(node: ElementTree.Element) -> str:
    return "(" + ", ".join(linear(e).strip() for e in node.findall(f"{_M}e")) + ")"


_PIECES: Mapping[str, Callable[[ElementTree.Element], str]] = {
    "r": lambda n: "".join(t.text or "" for t in n.iter(f"{_M}t")),
    "f": lambda n: f"{_held(_part(n, 'num'))}/{_held(_part(n, 'den'))}",
    "sSup": lambda n: f"{_held(_part(n, 'e'))}^{_held(_part(n, 'sup'))}",
    "sSub": lambda n: f"{_part(n, 'e')}_{_part(n, 'sub')}",
    "sSubSup": lambda n: f"{_part(n, 'e')}_{_part(n, 'sub')}^{_held(_part(n, 'sup'))}",
    "rad": _root,
    "d": _bracketed,
    "func": lambda n: f"{_part(n, 'fName')} {_held(_part(n, 'e'))}",
}
