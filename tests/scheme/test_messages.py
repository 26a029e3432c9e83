"""Every refusal of a scheme: file, part, key, cause and mend, in words a teacher can act on.

Each row is a scheme with one fault. `says` are texts its message must hold. Common practice, no source.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from marker.errors import SchemeError
from marker.marking import mark_response
from marker.scheme.calculation import CalculationPart, PointSpec, RouteSpec, SpecialSpec, StepSpec
from marker.scheme.files import load_any
from marker.scheme.paper import build_paper

GOOD_PART = """
[[part]]
name = "2b"
marks = 3
given = { P = "1.8 kW", V = "230 V" }
find = "I"
using = ["P = I*V"]
"""
HEAD = '[paper]\ntitle = "Winch"\n'


@dataclass(frozen=True)
class Row:
    what: str
    text: str
    says: tuple[str, ...]

    def __str__(self) -> str:
        return self.what


def part(**changes: str) -> str:
    """The good part with some of its lines replaced, or added where it has none of that key; "" takes a line away."""
    lines = [x for x in GOOD_PART.strip().splitlines()]
    for key, value in changes.items():
        place = next((i for i, x in enumerate(lines) if x.startswith(f"{key} =")), None)
        line = f"{key} = {value}" if value else None
        if place is not None:
            lines[place : place + 1] = [line] if line else []
        elif line:
            lines.append(line)
    return HEAD + "\n".join(lines) + "\n"


TOML = (
    Row("Greek letter as a key", HEAD + '[[part]]\nname = "1"\nθ = "52°"\n', ("line 5", "'θ = ", '"θ" = …', "theta = …")),
    Row(
        "Greek letter in an inline table", HEAD + '[[part]]\ngiven = { L = "2 m", λ_0 = "3 nm" }\n', ("line 4", '"λ_0" = …', "lambda_0 = …")
    ),
    Row("text without quotation marks", part(find="R"), ("line 7", "'find = R'", "quotation marks", 'find = "R"')),
    Row("quotation mark missing", part(find='"I'), ("line 7", "quotation mark is missing")),
    Row("bracket not closed", HEAD + '[[part]]\nname = "1"\nusing = ["P = I*V"\nfind = "I"\n', ("bracket is opened and not closed",)),
    Row("a key twice", HEAD + '[[part]]\nname = "1"\nname = "2"\n', ("line 5", "stands twice")),
    Row("a line without an equals sign", HEAD + "[[part]]\nthree marks\n", ("line 4", "'three marks'", "marks = 3")),
)
PAPER = (
    Row("no part", HEAD, ("no part", "[[part]]")),
    Row("unknown table", HEAD + GOOD_PART + "[papers]\nx = 1\n", ("'papers'", "[paper] and [[part]]")),
    Row("no title", GOOD_PART, ("[paper], title", "missing", "Add title")),
    Row("misspelt key of the paper", HEAD + 'conventoin = "x"\n' + GOOD_PART, ("[paper], conventoin", "Did you mean 'convention'?")),
    Row(
        "unknown convention",
        HEAD + 'convention = "my board"\n' + GOOD_PART,
        ("'my board'", "neither a file nor a ready convention", "positive three-mark"),
    ),
    Row("unknown ruling", HEAD + "[paper.rulings]\nunit_falt = 'none'\n" + GOOD_PART, ("rulings, unit_falt", "Did you mean 'unit_fault'?")),
    Row(
        "wrong value of a ruling",
        HEAD + "[paper.rulings]\nunit_fault = 'half'\n" + GOOD_PART,
        ("rulings, unit_fault", "'half'", "answer mark"),
    ),
    Row("two parts of one name", HEAD + GOOD_PART + GOOD_PART, ("part 2b", "two parts have this name", "Rename one")),
    Row("unknown kind", part(kind='"calculaton"'), ("part 2b, kind", "'calculaton'", "Did you mean 'calculation'?")),
    Row("unknown kind, nothing near", part(kind='"essay"'), ("part 2b, kind", "'essay'", "Use one of", "written")),
)
PART = (
    Row("another word for the data", part(data='{ I = "2 A" }'), ("part 2b, data", "Did you mean 'given'?")),
    Row("another word for the relationships", part(equations='["P = I*V"]'), ("part 2b, equations", "Did you mean 'using'?")),
    Row("misspelt key", part(useing='["P = I*V"]'), ("part 2b, useing", "not a key", "Did you mean 'using'?")),
    Row(
        "a key of the part in a route",
        part(route='[{ using = ["P = I*V"], carry = { I = "2a" } }]'),
        ("part 2b, route.1.carry", "belongs to the whole part", "above the first [[part.route]]"),
    ),
    Row(
        "misspelt key of a step",
        part(find="", using="", step='[{ find = "I", using = ["P = I*V"], acept = ["7 A", "8 A"] }]'),
        ("part 2b, step.1.acept", "Did you mean 'accept'?"),
    ),
    Row("misspelt key of a point", part(points='[{ kind = "answer", mark = 3 }]'), ("points.1.mark", "Did you mean 'marks'?")),
    Row("key of another kind", part(subject='"I"'), ("part 2b, subject", 'kind = "rearrangement"')),
    Row("no marks", part(marks=""), ("part 2b, marks", "missing", "Add marks")),
    Row("marks as a text", part(marks='"3"'), ("part 2b, marks", "'3'", "integer")),
    Row("no relationship", part(using="[]"), ("part 2b, using", "no relationship is named", 'using = ["V = I*R"]')),
    Row("unknown relationship", part(using='["kinetik energy"]'), ("part 2b, using", "'kinetik energy'", "Did you mean", "kinetic energy")),
    Row("relationship that cannot be read", part(using='["P = I*"]'), ("part 2b, using", "'P = I*'", "could not be read")),
    Row("two equals signs", part(using='["P = I*V = E"]'), ("part 2b, using", "3 sides", "one equals sign")),
    Row("datum without a number", part(given='{ P = "large", V = "230 V" }'), ("part 2b, given.P", "'large'", "64 mA")),
    Row("datum with an unknown unit", part(given='{ P = "1.8 kX", V = "230 V" }'), ("part 2b, given.P", "kX", "not a unit")),
    Row("not solvable", part(given='{ P = "1.8 kW" }'), ("part 2b, find", "I cannot be found", "Give a value of V")),
    Row("unknown unit asked for", part(unit='"amperes per"'), ("part 2b, unit", "'amperes per'", "not a unit")),
    Row("one end of a range", part(accept='["7.8 A"]'), ("part 2b, accept", "1 values", "lowest and the highest")),
    Row("a range that is not of values", part(accept='["low", "high"]'), ("part 2b, accept", "430 Ω")),
    Row(
        "a range beside the answer", part(accept='["9 A", "10 A"]'), ("part 2b, accept", "outside the accepted range", "Correct the range")
    ),
    Row("a typed answer that differs", part(answer='"9.2 A"'), ("part 2b, answer", "'9.2 A'", "7.826", "Correct one")),
    Row("a value to be shown that differs", part(show='"9.2 A"', marks="2"), ("part 2b, show", "'9.2 A'", "Correct one")),
    Row("marks that fit no pattern", part(marks="9"), ("part 2b, points", "9 marks for 1 relationship", "points")),
    Row("points that do not add up", part(points='[{ kind = "answer" }]'), ("part 2b, marks", "add up to 1", "worth 3")),
    Row("unknown kind of point", part(points='[{ kind = "answr" }]'), ("part 2b, points", "answr")),
    Row(
        "point of an unknown relationship",
        part(points='[{ kind = "relationship", of = "E = m*c^2" }]'),
        ("points 1, of", "not a relationship of this part", "P = I"),
    ),
    Row(
        "point of an unknown quantity",
        part(points='[{ kind = "value", of = "x" }]'),
        ("points 1, of", "'x'", "not a quantity of this part"),
    ),
    Row(
        "carried from nowhere",
        part(carry='{ V = "1a" }'),
        ("part 2b, carry.V", "'1a'", "not a value of an earlier part", "Parts come in order"),
    ),
)


@pytest.mark.parametrize("row", (*TOML, *PAPER, *PART), ids=str)
def test_a_scheme_is_refused_in_the_teachers_words(row: Row, tmp_path: Path) -> None:
    file = tmp_path / "winch.toml"
    file.write_text(row.text, encoding="utf-8")
    with pytest.raises(SchemeError) as refused:
        load_any(file)
    message = str(refused.value)
    assert message.startswith(str(file)) or "convention" in message
    for text in row.says:
        assert text in message, message


def test_no_message_proposes_the_key_it_refuses(tmp_path: Path) -> None:
    """Every key of every table of a calculation put into every other table of it."""
    tables = {"step": StepSpec, "route": RouteSpec, "points": PointSpec, "special": SpecialSpec}
    base = {"find": '"I"', "using": '["P = I*V"]', "kind": '"answer"', "answer": '"7.8 A"', "marks": "3"}
    told = 0
    for name, model in tables.items():
        needed = {k: base[k] for k, f in model.model_fields.items() if f.is_required()}
        for key in sorted(set(CalculationPart.model_fields) - set(model.model_fields)):
            row = ", ".join(f"{k} = {v}" for k, v in {**needed, key: '"x"'}.items())
            file = tmp_path / "x.toml"
            file.write_text(part(**{name: f"[{{ {row} }}]"}), encoding="utf-8")
            with pytest.raises(SchemeError) as refused:
                load_any(file)
            message = str(refused.value)
            told += "not a key of this table" in message
            assert f"Did you mean '{key}'" not in message
    assert told > 40


@pytest.mark.parametrize("key", ["also", "given", "names", "carry", "signed"])
def test_a_step_may_hold_what_belongs_to_the_part(key: str) -> None:
    """A definition, a datum or other letters may stand beside the step they are for (common practice, no source)."""
    held: dict[str, Any] = {
        "also": "r = d/2",
        "given": {"m": "1.5 kg"},
        "names": {"F": "pull"},
        "carry": {"v": "1"},
        "signed": ["F"],
    }
    row = {"name": "2", "marks": 2, "step": [{"find": "A", "using": "A = π*r^2", key: held[key]}]}
    part = CalculationPart.model_validate(row)
    assert getattr(part, key) == ([held[key]] if isinstance(held[key], str) else {"F": ["pull"]} if key == "names" else held[key])
    assert not part.step[0].model_dump(exclude_defaults=True).keys() & {key}


def test_a_definition_in_a_step_is_used() -> None:
    """A disc 36 cm across: A = π r² = 0.10 m², then the force of 42 kPa on it; worked by hand."""
    table = {
        "paper": {"title": "disc"},
        "part": [
            {
                "name": "1",
                "marks": 3,
                "given": {"p": "42 kPa", "d": "36 cm"},
                "step": [{"find": "F", "unit": "N", "marks": 3, "using": ["F = p*A"], "also": ["A = π*r^2", "r = d/2"]}],
            }
        ],
    }
    result = mark_response(build_paper(table).part("1"), ["F = pA = 42000 × π × 0.18² = 4.3 × 10³ N"])
    assert result.mark == 3


def test_all_problems_are_told_at_once(tmp_path: Path) -> None:
    """Two parts with a fault each, and both in the message."""
    file = tmp_path / "two.toml"
    other = GOOD_PART.replace('"2b"', '"3"').replace('find = "I"', 'find = "Q"')
    file.write_text(part(given='{ P = "large", V = "230 V" }') + other, encoding="utf-8")
    with pytest.raises(SchemeError) as refused:
        load_any(file)
    assert {p.where.split(", ")[1] for p in refused.value.problems} == {"part 2b", "part 3"}


def test_a_missing_file_and_one_that_is_no_text(tmp_path: Path) -> None:
    with pytest.raises(SchemeError, match="there is no such file"):
        load_any(tmp_path / "none.toml")
    file = tmp_path / "bytes.toml"
    file.write_bytes(b'title = "\xff\xfe"')
    with pytest.raises(SchemeError, match="UTF-8"):
        load_any(file)
