"""Schemes as the store keeps them: copied with what they read, and compiled again from the copy."""

from __future__ import annotations

import hashlib
import threading
import tomllib
from collections import OrderedDict
from pathlib import Path
from tempfile import TemporaryDirectory

from marker.errors import MarkerError
from marker.scheme.paper import Paper, load_scheme
from marker.scheme.vary import Varied, vary
from marker.web.storage.class_tests import PracticeTest, scheme_of
from marker.web.storage.engine import Store
from marker.web.storage.model import SchemeCopy

LARGEST_BESIDE = 200_000
KEPT_PAPERS = 16
KEPT_DRAWS = 256


def copy_scheme(path: Path, convention: str | None = None) -> SchemeCopy:
    """A scheme file and the convention files it reads. The file must have been loaded before, so that it is known to be good."""
    data = path.read_bytes()
    text = data.decode("utf-8")
    head = tomllib.loads(text).get("paper", {})
    beside: dict[str, str] = {}
    asked = ""
    if convention is not None:
        asked = Path(convention).name if Path(convention).suffix == ".toml" else convention
        _add(beside, Path(convention), asked)
    named = str(head.get("convention", ""))
    if named.endswith(".toml"):
        _add(beside, path.parent / named, named)
    return SchemeCopy(name=path.name, text=text, sha256=hashlib.sha256(data).hexdigest(), convention=asked, beside=beside)


def _add(beside: dict[str, str], file: Path, name: str) -> None:
    if file.suffix == ".toml" and file.is_file() and file.stat().st_size <= LARGEST_BESIDE:
        beside[name] = file.read_text(encoding="utf-8")


def compile_copy(copy: SchemeCopy) -> Paper:
    """The paper, compiled from a copy. Raises SchemeError."""
    with TemporaryDirectory(prefix="marker-") as folder:
        root = Path(folder)
        file = root / "scheme.toml"
        file.write_text(copy.text, encoding="utf-8")
        for name, text in copy.beside.items():
            target = (root / name).resolve()
            if target.is_relative_to(root.resolve()) and target != file:
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_text(text, encoding="utf-8")
        asked = copy.convention
        convention = root / asked if asked.endswith(".toml") and asked in copy.beside else (asked or None)
        return load_scheme(file, convention)


class Papers:
    """Compiled papers and freshly drawn parts, the last used kept. Safe to share among threads."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._lock = threading.Lock()
        self._papers: OrderedDict[str, Paper] = OrderedDict()
        self._drawn: OrderedDict[tuple[str, str, int], Varied] = OrderedDict()

    def paper(self, test: PracticeTest) -> Paper:
        """The compiled paper of a class test. Raises SchemeError when it no longer compiles."""
        with self._lock:
            if test.key not in self._papers:
                copy = scheme_of(self._store, test.id)
                if copy is None:
                    raise KeyError(test.id)
                self._papers[test.key] = compile_copy(copy)
                _trim(self._papers, KEPT_PAPERS)
            self._papers.move_to_end(test.key)
            return self._papers[test.key]

    def drawn(self, test: PracticeTest, part: str, draw: int) -> Varied:
        """A part with the numbers of that draw; draw 0 is the part as the paper has it. Raises KeyError."""
        paper, key = self.paper(test), test.key
        with self._lock:
            known = self._drawn.get((key, part, draw))
            if known is not None:
                self._drawn.move_to_end((key, part, draw))
                return known
        made = vary(paper.part(part), draw)
        with self._lock:
            self._drawn[key, part, draw] = made
            _trim(self._drawn, KEPT_DRAWS)
        return made

    def works(self, test: PracticeTest) -> bool:
        """True when the scheme compiles with this version."""
        try:
            self.paper(test)
        except MarkerError:
            return False
        return True


def _trim(kept: OrderedDict[str, Paper] | OrderedDict[tuple[str, str, int], Varied], most: int) -> None:
    while len(kept) > most:
        kept.popitem(last=False)
