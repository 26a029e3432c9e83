"""The rulings of a convention as a page of text, made from the fields that hold them."""

from __future__ import annotations

import textwrap
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel

from marker.scheme.convention import Convention

WIDTH = 110


def rulings_page(convention: Convention) -> str:
    """Each ruling: its key, its value in this convention, its options, its meaning and its source."""
    blocks = [f"Convention: {convention.name}. Replace a ruling under [paper.rulings] or [part.rulings] of a scheme."]
    for key, field in Convention.model_fields.items():
        if key in ("name", "source"):
            continue
        extra = field.json_schema_extra if isinstance(field.json_schema_extra, dict) else {}
        meaning = (field.description or "").lstrip("0123456789, ")
        source = f" (source: {extra['source']})" if extra.get("source") else ""
        head = f"{key} = {shown(getattr(convention, key))}"
        if options := _options(field.annotation):
            head += f"   one of: {', '.join(options)}"
        blocks.append("\n".join([head, *textwrap.wrap(meaning + source, WIDTH, initial_indent="    ", subsequent_indent="    ")]))
    return "\n\n".join(blocks)


def shown(value: Any) -> str:
    """A value as it is typed in a scheme file."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, BaseModel):
        return "{ " + ", ".join(f"{k} = {shown(v)}" for k, v in value.model_dump().items() if v is not None) + " }"
    if isinstance(value, dict):
        return "{ " + ", ".join(f'"{k}" = {shown(v)}' for k, v in value.items()) + " }" if value else "{}"
    if isinstance(value, tuple | list):
        return "[" + ", ".join(shown(v) for v in value) + "]"
    return f'"{value}"' if isinstance(value, str) else f"{value:g}"


def _options(annotation: Any) -> list[str]:
    return [shown(option) for option in get_args(annotation)] if get_origin(annotation) is Literal else []
