"""Where the grammars and rubrics are: beside the package in a checkout, inside it in an installed copy."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def _root(name: str) -> Traversable:
    packaged = files("marker") / "_data" / name
    if packaged.is_dir():
        return packaged
    return Path(__file__).resolve().parent.parent / name


def grammar(name: str) -> str:
    """Text of one file of grammars/, such as "working.lark"."""
    return (_root("grammars") / name).read_text(encoding="utf-8")


def rubrics() -> Traversable:
    """The folder of conventions, relationship sheets, faults and the demo."""
    return _root("rubrics")
