"""The JSON Schema of scheme files, held to every scheme of this repository and to schemes with a fault.

Judge: a small reading of the keywords used (JSON Schema draft 2020-12, core and validation vocabularies), written here.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable, Iterator, Mapping
from typing import Any

import pytest

from marker.kinds import KINDS
from marker.scheme.schema import scheme_schema

from .schemes import FILES, everything, name_of

SCHEMA = scheme_schema()
TYPES: Mapping[str, Callable[[Any], bool]] = {
    "object": lambda v: isinstance(v, dict),
    "array": lambda v: isinstance(v, list),
    "string": lambda v: isinstance(v, str),
    "boolean": lambda v: isinstance(v, bool),
    "integer": lambda v: isinstance(v, int) and not isinstance(v, bool),
    "number": lambda v: isinstance(v, int | float) and not isinstance(v, bool),
    "null": lambda v: v is None,
}


def faults(value: Any, schema: Mapping[str, Any], where: str = "") -> Iterator[str]:
    """Where a value does not fit; nothing when it fits."""
    if "$ref" in schema:
        yield from faults(value, SCHEMA["$defs"][schema["$ref"].rpartition("/")[2]], where)
    if "anyOf" in schema and all(any(True for _ in faults(value, s, where)) for s in schema["anyOf"]):
        yield f"{where}: none of the choices"
    if "type" in schema and not TYPES[schema["type"]](value):
        yield f"{where}: not {schema['type']}"
        return
    if ("enum" in schema and value not in schema["enum"]) or ("const" in schema and value != schema["const"]):
        yield f"{where}: not one of the values"
    for keyword, fails in LIMITS.items():
        if keyword in schema and isinstance(value, int | float | str | list) and fails(value, schema[keyword]):
            yield f"{where}: {keyword}"
    if isinstance(value, dict):
        yield from in_table(value, schema, where)
    if isinstance(value, list):
        for number, item in enumerate(value):
            prefix = schema.get("prefixItems", [])
            yield from faults(item, prefix[number] if number < len(prefix) else schema.get("items", {}), f"{where}[{number}]")


def _size(value: Any) -> float:
    return len(value) if isinstance(value, str | list) else value


LIMITS: Mapping[str, Callable[[Any, Any], bool]] = {
    "minimum": lambda v, x: v < x,
    "maximum": lambda v, x: v > x,
    "exclusiveMinimum": lambda v, x: v <= x,
    "exclusiveMaximum": lambda v, x: v >= x,
    "minLength": lambda v, x: _size(v) < x,
    "minItems": lambda v, x: _size(v) < x,
    "maxItems": lambda v, x: _size(v) > x,
}


def in_table(value: dict[str, Any], schema: Mapping[str, Any], where: str) -> Iterator[str]:
    for key in schema.get("required", []):
        if key not in value:
            yield f"{where}.{key}: missing"
    for key, inner in value.items():
        known = schema.get("properties", {})
        if key in known:
            yield from faults(inner, known[key], f"{where}.{key}")
        elif schema.get("additionalProperties") is False:
            yield f"{where}.{key}: unknown"
        elif isinstance(schema.get("additionalProperties"), dict):
            yield from faults(inner, schema["additionalProperties"], f"{where}.{key}")


def test_it_is_plain_json_and_says_which_dialect() -> None:
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA
    assert SCHEMA["$schema"].endswith("draft/2020-12/schema")


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_every_scheme_fits(file: Any) -> None:
    assert list(faults(tomllib.loads(file.read_text(encoding="utf-8")), SCHEMA)) == []


def test_the_scheme_of_everything_fits() -> None:
    assert list(faults(everything(), SCHEMA)) == []


def test_every_kind_has_its_keys() -> None:
    parts = SCHEMA["properties"]["part"]["items"]["anyOf"]
    named = {SCHEMA["$defs"][p["$ref"].rpartition("/")[2]]["properties"]["kind"]["const"] for p in parts}
    assert named == set(KINDS)
    for kind in KINDS.values():
        definition = SCHEMA["$defs"][kind.spec.__name__]
        aliases = {f.alias or n for n, f in kind.spec.model_fields.items()}
        assert set(definition["properties"]) == aliases


WRONG = (
    ("an unknown key", lambda t: t["part"][0].update(useing=["P = I*V"])),
    ("marks as a text", lambda t: t["part"][0].update(marks="3")),
    ("a kind that is none", lambda t: t["part"][0].update(kind="essay")),
    ("an unknown ruling", lambda t: t["paper"]["rulings"].update(unit_falt="none")),
    ("a ruling's value", lambda t: t["paper"]["rulings"].update(unit_fault="half")),
    ("no title", lambda t: t["paper"].pop("title")),
    ("an unknown table", lambda t: t.update(papers={})),
    ("no part", lambda t: t.update(part=[])),
    ("a kind of point", lambda t: t["part"][1]["step"][0]["points"][0].update(kind="answr")),
)


@pytest.mark.parametrize(("what", "change"), WRONG, ids=[w[0] for w in WRONG])
def test_a_fault_is_found(what: str, change: Callable[[dict[str, Any]], None]) -> None:
    table = everything()
    change(table)
    assert list(faults(table, SCHEMA)), what
