"""Every refusal of a scheme: file, part, key, cause and mend, in words a teacher can act on.

Each row is a scheme with one fault. `says` are texts its message must hold. Common practice, no source.
"""

from dataclasses import dataclass
from pathlib import Path

import pytest

from marker.errors import SchemeError
from marker.scheme.files import load_any

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
    Row("misspelt key", part(useing='["P = I*V"]'), ("part 2b, useing", "not a key", "Did you mean 'using'?")),
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
