"""A scheme written as TOML: the plain values of a scheme, in the order given, with remarks where wanted.

Only what schemes hold is written: texts, whole numbers, numbers, True and False, lists and tables of them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r", "\b": "\\b", "\f": "\\f"}
_LONG = 100
Remarks = Mapping[tuple[int, str], Sequence[str]]


def write_scheme(table: Mapping[str, Any], remarks: Remarks | None = None, head: Sequence[str] = ()) -> str:
    """The TOML text of a scheme.

    remarks  (number of the part from 0, key) -> lines written as comments before that key; key "" stands for the part itself
    head     lines of comment at the top
    """
    said = remarks or {}
    out = [f"# {line}".rstrip() for line in head] + ([""] if head else [])
    out += ["[paper]", *_paper(table.get("paper", {}))]
    for number, part in enumerate(table.get("part", ())):
        out += ["", *_comments(said, number, ""), "[[part]]"]
        out += _table(part, "part", lambda key, n=number: _comments(said, n, key))
    return "\n".join(out) + "\n"


def _comments(remarks: Remarks, number: int, key: str) -> list[str]:
    return [f"# {line}" for line in remarks.get((number, key), ())]


def _paper(paper: Mapping[str, Any]) -> list[str]:
    rulings = paper.get("rulings")
    out = [f"{key_text(k)} = {value(v)}" for k, v in paper.items() if k != "rulings"]
    if isinstance(rulings, Mapping) and rulings:
        out += ["", "[paper.rulings]", *(f"{key_text(k)} = {value(v)}" for k, v in rulings.items())]
    elif rulings is not None:
        out.append(f"rulings = {value(rulings)}")
    return out


def _table(table: Mapping[str, Any], name: str, comments: Any) -> list[str]:
    """Plain keys first, then lists of tables of their own, as TOML needs."""
    out: list[str] = []
    later: list[str] = []
    for key, v in table.items():
        if _tables(v) and key in ("step", "route", "ask", "idea"):
            for inner in v:
                later += [f"[[{name}.{key}]]", *_table(inner, f"{name}.{key}", lambda _: [])]
            continue
        out += comments(key)
        out += _line(key, v)
    return out + later


def _line(key: str, v: Any) -> list[str]:
    short = f"{key_text(key)} = {value(v)}"
    if len(short) <= _LONG or not isinstance(v, list) or not v:
        return [short]
    return [f"{key_text(key)} = [", *(f"  {value(x)}," for x in v), "]"]


def _tables(v: Any) -> bool:
    return isinstance(v, list) and bool(v) and all(isinstance(x, Mapping) for x in v)


def key_text(key: str) -> str:
    """A key, in quotation marks where TOML needs them (θ, Δθ, a name with a space)."""
    return key if _BARE.fullmatch(key) else text(key)


def text(words: str) -> str:
    """A text in quotation marks."""
    plain = "".join(_ESCAPES.get(c, c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}") for c in words)
    return f'"{plain}"'


def value(v: Any) -> str:
    """A value on one line. Raises TypeError for what a scheme does not hold."""
    match v:
        case bool():
            return "true" if v else "false"
        case int():
            return str(v)
        case float():
            return repr(v) if "e" not in repr(v) else repr(v).replace("e", "e" if "." in repr(v).split("e")[0] else ".0e")
        case str():
            return text(v)
        case Mapping():
            return "{ " + ", ".join(f"{key_text(k)} = {value(x)}" for k, x in v.items()) + " }" if v else "{}"
        case Sequence():
            return "[" + ", ".join(value(x) for x in v) + "]"
    raise TypeError(f"{type(v).__name__} has no place in a scheme")
