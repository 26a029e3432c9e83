"""The JSON Schema of a scheme file, so that an editor completes its keys and checks their values."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, models_json_schema

from marker.kinds import KINDS
from marker.scheme.convention import Convention
from marker.scheme.paper import PaperHead

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def scheme_schema() -> dict[str, Any]:
    """The schema of a whole scheme file: [paper], and [[part]] of every kind, told apart by `kind`.

    Keys are described by the docstrings of their models; rulings are those of a convention, any of them alone.
    """
    every: list[type[BaseModel]] = [PaperHead, Convention, *(k.spec for k in KINDS.values())]
    models: list[tuple[type[BaseModel], Any]] = [(m, "validation") for m in every]
    where, definitions = models_json_schema(models, ref_template="#/$defs/{model}", schema_generator=GenerateJsonSchema)
    defs: dict[str, Any] = definitions["$defs"]
    rulings = _rulings(defs, where[(Convention, "validation")])
    head = _named(defs, where[(PaperHead, "validation")])
    head["properties"]["rulings"] = rulings
    parts = []
    for name, kind in KINDS.items():
        part = _named(defs, where[(kind.spec, "validation")])
        part["properties"]["kind"] = {"const": name, "title": "Kind", "description": f"A part of the kind {name!r}."}
        part["properties"]["rulings"] = rulings
        if name != "calculation" and "kind" not in part.setdefault("required", []):
            part["required"] = ["kind", *part["required"]]
        parts.append({"$ref": where[(kind.spec, "validation")]["$ref"]})
    return {
        "$schema": DIALECT,
        "title": "Mark scheme of a class test",
        "type": "object",
        "additionalProperties": False,
        "required": ["paper", "part"],
        "properties": {
            "paper": {"$ref": where[(PaperHead, "validation")]["$ref"]},
            "part": {"type": "array", "minItems": 1, "items": {"anyOf": parts}},
        },
        "$defs": defs,
    }


def _named(defs: Mapping[str, Any], reference: Mapping[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = defs[str(reference["$ref"]).rpartition("/")[2]]
    return found


def _rulings(defs: dict[str, Any], reference: Mapping[str, Any]) -> dict[str, Any]:
    """Rulings a paper or part may replace: the convention's, without its name and source."""
    convention = _named(defs, reference)
    properties = {k: v for k, v in convention["properties"].items() if k not in ("name", "source")}
    return {
        "title": "Rulings",
        "type": "object",
        "description": "Rulings of the convention replaced here.",
        "properties": properties,
        "additionalProperties": False,
    }
