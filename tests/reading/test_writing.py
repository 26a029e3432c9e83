"""Expressions written out again, as plain text and as MathML."""

import xml.etree.ElementTree as ET

import pytest

from marker.reading import read_expression, read_lines, write_mathml, write_plain
from marker.reading.model import SymbolTable
from tests.reading.tables import first_readings

PLAIN = (
    ("½mv^2", "½mv²"),
    ("0.36 T * 7.5 A", "0.36 T × 7.5 A"),
    ("(a+b)*c", "(a + b)c"),
    ("a/(b*c)", "a/(bc)"),
    ("a/b/c", "a/b/c"),
    ("a/(b/c)", "a/(b/c)"),
    ("-(a+b)", "−(a + b)"),
    ("a-(b-c)", "a − (b − c)"),
    ("(a*b)^2", "(ab)²"),
    ("(-3)^2", "(−3)²"),
    ("x^-2", "x⁻²"),
    ("2*3*x", "2 × 3 × x"),
    ("3*10^8 m/s", "3 × 10⁸ m s⁻¹"),
    ("10^-3", "10⁻³"),
    ("52°", "52°"),
    ("sin(2θ)", "sin(2θ)"),
    ("sin(θ)^2", "sin² θ"),
    ("3.105", "3.105"),
    ("1040", "1040"),
    ("F_net/m", "F_net/m"),
    ("v_0*t", "v₀t"),
    ("sqrt(a/b)", "√(a/b)"),
    ("|a - b|", "|a − b|"),
    ("12 °C", "12 °C"),
)


@pytest.mark.parametrize(("text", "written"), PLAIN, ids=[p[0] for p in PLAIN])
def test_plain(text: str, written: str) -> None:
    assert write_plain(read_expression(text)) == written


def test_a_second_writing_equals_the_first() -> None:
    for text, _ in PLAIN:
        once = first_readings(write_plain(read_expression(text)))
        assert once == first_readings(once), text


MATHML = (
    ("V/I", "<mfrac><mi>V</mi><mi>I</mi></mfrac>"),
    ("v^2", "<msup><mi>v</mi><mn>2</mn></msup>"),
    ("sqrt(x)", "<msqrt><mi>x</mi></msqrt>"),
    ("v_0", "<msub><mi>v</mi><mn>0</mn></msub>"),
    ("3 N", '<mi mathvariant="normal">N</mi>'),
    ("1.5*10^4", "<msup><mn>10</mn><mn>4</mn></msup>"),
)


@pytest.mark.parametrize(("text", "part"), MATHML, ids=[m[0] for m in MATHML])
def test_mathml(text: str, part: str) -> None:
    assert part in write_mathml(read_expression(text))


TYPED = ("a < b", "x = 3 & y = 2", "½mv² = <script>alert(1)</script>", "R_<b> = 3", 'F = 3 "N"', "gradient & slope = 3")


@pytest.mark.parametrize("typed", [*TYPED, *(p[0] for p in PLAIN)])
def test_mathml_is_well_formed_whatever_was_typed(typed: str) -> None:
    for statement in read_lines([typed], SymbolTable())[0].statements:
        for reading in statement.readings:
            for side in reading.sides:
                root = ET.fromstring(write_mathml(side))
                assert root.tag == "{http://www.w3.org/1998/Math/MathML}math"
