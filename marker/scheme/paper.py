"""A scheme file: its paper, its parts, and the whole compiled and ready for marking."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from marker.errors import Problem, SchemeError
from marker.kinds.base import Kind, PartSpec
from marker.resources import rubrics
from marker.scheme.compiled_part import Around as Around
from marker.scheme.compiled_part import CompiledPart as CompiledPart
from marker.scheme.compiled_part import compiled_part
from marker.scheme.convention import Convention
from marker.scheme.greek import greek_keys, greek_part
from marker.scheme.toml_text import toml_problem

T = TypeVar("T", bound=BaseModel)
DEFAULT_CONVENTION = "positive three-mark"


class PaperHead(BaseModel):
    """The [paper] table of a scheme file.

    title       what the class test is called;  convention  a ready convention by name, or a file beside the scheme
    rulings     rulings of the convention replaced for the whole paper
    data        the data sheet: symbol -> value, or a list of accepted values, the first of which answers are worked out with
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    title: str
    convention: str = DEFAULT_CONVENTION
    rulings: dict[str, Any] = Field(default_factory=dict)
    data: dict[str, str | list[str]] = Field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A whole scheme ready for marking. `source` is the file it came from, "" when none."""

    title: str
    convention: Convention
    parts: tuple[CompiledPart, ...]
    source: str = ""

    @property
    def maximum(self) -> float:
        return sum(p.marks for p in self.parts)

    def part(self, name: str) -> CompiledPart:
        """The part of that name. Raises KeyError."""
        return next(p for p in self.parts if p.name == name) if any(p.name == name for p in self.parts) else _no_part(name)


def _no_part(name: str) -> CompiledPart:
    raise KeyError(name)


def load_scheme(path: Path | str, convention: Path | str | None = None) -> Paper:
    """Reads, checks and compiles a scheme file. Raises SchemeError listing every problem found, each with its mend.

    convention  a convention file, or the name of a ready one, in place of the one the scheme names.
    """
    path = Path(path)
    if not path.is_file():
        raise SchemeError(Problem(where=str(path), seen="there is no such file", mend="Check the name of the scheme."))
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except UnicodeDecodeError as error:
        raise SchemeError(Problem(where=str(path), seen="not UTF-8 text", mend="Save the scheme as UTF-8.")) from error
    except tomllib.TOMLDecodeError as error:
        raise SchemeError(toml_problem(path.read_text(encoding="utf-8"), error, str(path))) from error
    return build_paper(table, folder=path.parent, convention=convention, source=str(path))


def build_paper(table: Mapping[str, Any], *, folder: Path | None = None, convention: Path | str | None = None, source: str = "") -> Paper:
    """A scheme already parsed, compiled. Raises SchemeError."""
    where = source or "scheme"
    unknown = table.keys() - {"paper", "part"}
    if unknown:
        raise SchemeError(
            [Problem(where=where, seen=f"table {k!r} is not one of a scheme", expected="[paper] and [[part]]") for k in sorted(unknown)]
        )
    head = _validated(PaperHead, table.get("paper", {}), f"{where}, [paper]")
    rules = _ruled(load_convention(convention or head.convention, folder), head.rulings, f"{where}, [paper]")
    rows = table.get("part", [])
    if not isinstance(rows, list) or not rows:
        raise SchemeError(Problem(where=where, seen="no part", expected="at least one [[part]] table"))
    return Paper(title=head.title, convention=rules, parts=_parts(rows, head, rules, where), source=source)


def _parts(rows: list[Any], head: PaperHead, rules: Convention, where: str) -> tuple[CompiledPart, ...]:
    problems: list[Problem] = []
    parts: list[CompiledPart] = []
    seen: set[str] = set()
    sheet = {s: (v,) if isinstance(v, str) else tuple(v) for s, v in greek_keys(head.data).items()}
    for number, row in enumerate(rows, 1):
        try:
            spec, kind = _spec(row, number, where)
            if spec.name in seen:
                raise SchemeError(Problem(where=f"{where}, part {spec.name}", seen="two parts have this name", mend="Rename one of them."))
            seen.add(spec.name)
            convention = _ruled(rules, spec.rulings, f"{where}, part {spec.name}")
            parts.append(compiled_part(spec, kind, convention, Around(sheet=sheet, earlier=tuple(parts))))
        except SchemeError as error:
            problems.extend(_placed(p, where) for p in error.problems)
    if problems:
        raise SchemeError(problems)
    return tuple(parts)


def _placed(problem: Problem, where: str) -> Problem:
    if problem.where.startswith(where):
        return problem
    return Problem(where=f"{where}, {problem.where}", seen=problem.seen, expected=problem.expected, mend=problem.mend)


def _spec(row: Any, number: int, where: str) -> tuple[PartSpec, Kind]:
    from marker.kinds import KINDS

    if not isinstance(row, dict):
        raise SchemeError(Problem(where=f"{where}, part {number}", seen="not a table", expected="[[part]]"))
    name = row.get("kind", "calculation")
    kind = KINDS.get(str(name))
    place = f"{where}, part {row.get('name', number)}"
    if kind is None:
        near = get_close_matches(str(name), KINDS, n=1)
        mend = f"Did you mean {near[0]!r}?" if near else f"Use one of {', '.join(sorted(KINDS))}."
        raise SchemeError(Problem(where=f"{place}, kind", seen=f"{name!r} is not a kind of part", mend=mend))
    return _validated(kind.spec, greek_part(row), place), kind


def _validated(model: type[T], row: Any, where: str) -> T:
    try:
        return model.model_validate(row)
    except ValidationError as error:
        raise SchemeError([_said(e, model, where) for e in error.errors()]) from error


def _said(error: Any, model: type[BaseModel], where: str) -> Problem:
    """One pydantic error in the teacher's words."""
    key = ".".join(str(k + 1) if isinstance(k, int) else str(k) for k in error["loc"])
    place = f"{where}, {key}" if key else where
    if error["type"] == "extra_forbidden":
        return _unknown_key(error["loc"], model, place)
    if error["type"] == "missing":
        return Problem(where=place, seen="missing", mend=f"Add {key} = …")
    if error["type"] == "value_error":
        return Problem(where=place, seen=f"{error['input']!r}: {error['ctx']['error']}")
    return Problem(where=place, seen=f"{error['input']!r}: {error['msg'][0].lower()}{error['msg'][1:]}")


_CALLED = {
    **dict.fromkeys(("data", "values", "known", "knowns"), "given"),
    **dict.fromkeys(("relationships", "relationship", "relations", "formula", "formulae", "formulas", "equation", "equations"), "using"),
    **dict.fromkeys(("definitions", "definition", "helpers", "auxiliary"), "also"),
    **dict.fromkeys(("quantity", "sought", "unknown"), "find"),
    **dict.fromkeys(("range", "accepts"), "accept"),
    **dict.fromkeys(("carried", "from_part", "follows"), "carry"),
    **dict.fromkeys(("id", "part", "number"), "name"),
    **dict.fromkeys(("text", "prompt", "asks"), "question"),
    **dict.fromkeys(("mark", "out_of", "max", "maximum"), "marks"),
    **dict.fromkeys(("significant_figures", "sig_figs", "sf"), "figures"),
    **dict.fromkeys(("synonyms", "symbols", "letters"), "names"),
}
"""What a teacher may call a key at first: the key of ours it stands for, offered where the table has it."""


def _unknown_key(loc: Sequence[str | int], model: type[BaseModel], place: str) -> Problem:
    """A key the table it stands in does not have: the nearest it has, or the table or the kind of part that has it."""
    key, table = str(loc[-1]), _table_at(model, loc[:-1])
    meant = _CALLED.get(key.casefold().replace(" ", "_"), "")
    near = [meant] if meant in table.model_fields else get_close_matches(key, table.model_fields, n=1)
    mend = f"Did you mean {near[0]!r}?" if near else "Remove it."
    if key in model.model_fields and table is not model:
        inner = next((str(k) for k in reversed(loc[:-1]) if isinstance(k, str)), "")
        mend = f"It belongs to the whole part: write it above the first [[part.{inner}]], or above the line {inner} = […]."
    elif not near and issubclass(table, PartSpec):
        mend = _of_another_kind(key) or mend
    return Problem(where=place, seen="not a key of this table", expected=f"one of {', '.join(table.model_fields)}", mend=mend)


def _of_another_kind(key: str) -> str:
    from marker.kinds import KINDS

    found = [f'kind = "{name}"' for name, kind in KINDS.items() if key in kind.spec.model_fields]
    return f"It is a key of parts with {' or '.join(found)}." if found else ""


def _table_at(model: type[BaseModel], loc: Sequence[str | int]) -> type[BaseModel]:
    """The model of the table a place leads to: that of a step for ("step", 0)."""
    for key in loc:
        field = model.model_fields.get(str(key))
        inner = [] if field is None else models_in(field.annotation)
        if len(inner) == 1:
            model = inner[0]
    return model


def models_in(annotation: Any) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [m for inner in get_args(annotation) for m in models_in(inner)]


def load_convention(name: Path | str, folder: Path | None = None) -> Convention:
    """A convention by file, or by the name of a ready one in rubrics/conventions/. Raises SchemeError."""
    for candidate in (Path(name), (folder or Path()) / str(name)):
        if candidate.suffix == ".toml" and candidate.is_file():
            return _convention(candidate.read_text(encoding="utf-8"), str(candidate))
    ready = rubrics() / "conventions"
    known: dict[str, Any] = {}
    for file in sorted(ready.iterdir(), key=lambda f: f.name) if ready.is_dir() else ():
        if file.name.endswith(".toml"):
            text = file.read_text(encoding="utf-8")
            known[str(tomllib.loads(text).get("name", file.name))] = (text, file.name)
    slug = str(name).casefold().replace("_", " ").replace("-", " ")
    for title, (text, file_name) in known.items():
        if slug in (title.casefold().replace("-", " "), file_name.removesuffix(".toml").replace("_", " ").replace("-", " ")):
            return _convention(text, file_name)
    raise SchemeError(
        Problem(
            where="convention",
            seen=f"{str(name)!r} is neither a file nor a ready convention",
            expected=", ".join(map(repr, known)) or "a file",
        )
    )


def _convention(text: str, where: str) -> Convention:
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SchemeError(toml_problem(text, error, where)) from error
    head = {k: v for k, v in table.items() if k in ("name", "source")}
    return _ruled(Convention(**head), table.get("rulings", {}), where)


def _ruled(convention: Convention, rulings: Mapping[str, Any], where: str) -> Convention:
    try:
        return convention.with_rulings(dict(rulings))
    except ValidationError as error:
        raise SchemeError([_said(e, Convention, f"{where}, rulings") for e in error.errors()]) from error
