"""What follows from a gradient, in the ways candidates write it: invented tables, typed working, points expected.

Points are method, gradient, relationship, answer. All rows are common practice, no source; the numbers are worked by hand.
"""

from __future__ import annotations

import tomllib
from functools import lru_cache

import pytest

from marker.kinds.gradient.compiled import GradientPart, compile_gradient
from marker.kinds.gradient.mark import mark_gradient
from marker.kinds.gradient.spec import GradientSpec
from marker.scheme.convention import Convention

SCHEMES = {
    "tracer": """
        name = "a1"
        marks = 4
        then = { find = "T_h", from = "T_h = -ln(2)/gradient", unit = "min", within = ["38 min", "41 min"], names = ["half-life"] }
        table.x = { name = "time", symbol = "t", unit = "min", values = ["0", "20", "40", "60", "80"] }
        table.y = { name = "ln of the count rate", symbol = "y", values = ["5.10", "4.75", "4.40", "4.04", "3.69"] }
        """,
    "capacitor": """
        name = "a2"
        marks = 4
        then = { find = "τ", from = "τ = -1/gradient", unit = "s", within = ["24.2 s", "25.6 s"], names = ["time constant"] }
        table.x = { name = "time", symbol = "t", unit = "s", values = ["0", "10", "20", "30", "40"] }
        table.y = { name = "ln of the voltage", symbol = "y", values = ["2.30", "1.90", "1.49", "1.10", "0.69"] }
        """,
    "slope": """
        name = "a3"
        marks = 4
        then = { find = "a", from = "a = gradient/2", unit = "m/s^2", within = ["1.55 m/s^2", "1.65 m/s^2"], names = ["acceleration"] }
        table.x = { name = "distance", symbol = "s", unit = "m", values = ["1.0", "2.0", "3.0", "4.0", "5.0"] }
        table.y = { name = "speed squared", symbol = "v^2", unit = "m^2/s^2", values = ["4.2", "7.4", "10.6", "13.8", "17.0"] }
        """,
    "wire": """
        name = "a5"
        marks = 4
        given = { L = "2.00 m", A = "2.5e-7 m^2" }
        then = { find = "E", from = "E = L/(A*gradient)", unit = "Pa", within = ["1.95e11 Pa", "2.05e11 Pa"], names = ["Young modulus"] }
        table.x = { name = "load", symbol = "F", unit = "N", values = ["10", "20", "30", "40", "50"] }
        table.y = { name = "extension", symbol = "x", unit = "mm", values = ["0.40", "0.80", "1.20", "1.60", "2.00"] }
        """,
    "lens": """
        name = "a4"
        marks = 4
        then = { find = "D", from = "D = 1/gradient", unit = "N/cm", within = ["2.4 N/cm", "2.6 N/cm"], names = ["stiffness"] }
        table.x = { name = "load", symbol = "F", unit = "N", values = ["1.0", "2.0", "3.0", "4.0", "5.0"] }
        table.y = { name = "extension", symbol = "x", unit = "cm", values = ["0.40", "0.80", "1.20", "1.60", "2.00"] }
        """,
}


@lru_cache
def part(name: str) -> GradientPart:
    return compile_gradient(GradientSpec.model_validate({**tomllib.loads(SCHEMES[name]), "kind": "gradient"}), Convention())


ROWS = [
    # the size of a falling line's gradient under a letter of its own is no second gradient
    ("tracer", "gradient = (3.69-5.10)/(80-0) = -0.0176 /min\nλ = 0.0176 /min\nT½ = ln2/λ = 39.3 min", "1111"),
    ("tracer", "slope -1.41/80 = -0.0176\nk = 0.0176\nt1/2 = 0.693/0.0176 = 39.4 min", "1111"),
    ("capacitor", "grad = (0.69-2.30)/40 = -0.0403\n1/RC = 0.0403\nRC = 24.8 s", "1111"),
    ("capacitor", "gradient = -1.61/40 = -0.04025 s⁻¹; b = 0.04025 s⁻¹; time constant = 1/b = 24.8 s", "1111"),
    ("capacitor", "gradient = (1.10-1.90)/(30-10) = -0.0400 s^-1 so the time constant is 1/0.0400 = 25.0 s", "1111"),
    # the quantity sought under the candidate's own name
    ("tracer", "m = (3.69-5.10)/80 = -0.01763\nT_{1/2} = 0.693/0.01763 = 39.3 min", "1111"),
    ("tracer", "gradient = -1.41/80 = -0.0176\nhalf life = 0.693/0.0176 = 39.4", "1110"),
    ("slope", "gradient = (17.0-4.2)/(5.0-1.0) = 3.2\nacc = 3.2/2 = 1.6 m/s^2", "1111"),
    ("lens", "gradient = 1.60/4.0 = 0.40 cm/N\nk = 1/0.40 = 2.5 N/cm", "1111"),
    ("capacitor", "gradient = -1.61/40 = -0.0403\nT = 1/0.0403 = 24.8 s", "1111"),
    # 1/min is a unit; a wrong power of ten in the gradient is charged there, and followed
    ("tracer", "slope = (3,69 − 5,10)/80 = −0,176 1/min\nλ = 0,176 1/min\nT = 0,693/0,176 = 3,94 min", "1011"),
    ("tracer", "slope = (3.69 - 5.10)/80 = -0.0176 1/min\nT = 0.693/0.0176 = 39.4 min", "1111"),
    # a share of the gradient in words
    ("slope", "gradient = 12.8/4.0 = 3.2 and a = half of it = 1.6 m/s^2", "1111"),
    ("slope", "slope is 3.2\nacceleration = half that = 1.6 m/s^2", "1111"),
    # run-on chains
    ("tracer", "5.10 - 3.69 = 1.41/80 = 0.017625 = ln2/0.017625 = 39.3 min", "1111"),
    ("slope", "17.0 - 4.2 = 12.8/4.0 = 3.2/2 = 1.6 m/s^2", "1111"),
    ("slope", "gradient = 17.0 - 4.2 = 12.8 / 4 = 3.2 / 2 = 1.6 m/s^2 = a", "1111"),
    ("lens", "2.00 - 0.40 = 1.60/4.0 = 0.40 = 1/0.40 = 2.5 N/cm", "1111"),
    ("capacitor", "2.30-0.69 = 1.61/40 = 0.04025 = 1/0.04025 = 24.8 s", "1111"),
    # the changes of the axes in letters say nothing of the quantity wanted
    ("wire", "gradient = Δx/ΔF = (1.60-0.80)/(40-20) = 0.040 mm/N\nE = gradient × L/A = 4.0×10^-5 × 2.0/2.5×10^-7 = 320 Pa", "1100"),
    ("wire", "gradient = Δx/ΔF = 0.80/20 = 4.0×10^-5 m/N\nE = L/(A×gradient) = 2.0/(2.5×10^-7×4.0×10^-5) = 2.0×10^11 Pa", "1111"),
    # a gradient put into another unit with the wrong power of ten is no gradient to follow
    ("wire", "gradient = 1.60/40 = 0.040 mm/N = 4.0×10^-4 m/N\nE = L/(A×gradient) = 2.0/(2.5×10^-7×4.0×10^-4) = 2.0×10^10 Pa", "1110"),
    # the relationship in letters, then wrongly rearranged
    ("slope", "v² = 2as so gradient = 2a\ngradient = 12.8/4.0 = 3.2\na = 3.2 × 2 = 6.4 m/s^2", "1110"),
    ("lens", "gradient = 1/D\ngradient = 1.60/4.0 = 0.40\nD = 0.40 N/cm", "1110"),
    ("tracer", "GRADIENT = -1.41/80 = -0.0176\nLAMBDA = LN2 / T\nT = LN2 X LAMBDA = 0.0122 MIN", "1110"),
    # the relationship with the own gradient put in
    ("slope", "12.8/4.0 = 3.2\n2a = 3.2\na =", "1110"),
    ("lens", "1.60/4.0 = 0.40\n1/D = 0.40", "1110"),
    # wrong relationships stay wrong
    ("tracer", "gradient = -1.41/80 = -0.0176\nT = ln2 × 0.0176 = 0.0122 min", "1100"),
    ("tracer", "gradient = -1.41/80 = -0.0176\nhalf-life = 0.5/0.0176 = 28 min", "1100"),
    ("slope", "gradient = 12.8/4.0 = 3.2\na = 3.2 m/s^2", "1100"),
    # own gradients are followed, one upside down is not
    ("slope", "gradient = (17.0-4.2)/(5.0-1.0) = 12.8/4.0 = 3.6\na = 3.6/2 = 1.8 m/s^2", "1011"),
    ("tracer", "slope = 80/(3.69-5.10) = -56.7\nk = 56.7\nT½ = ln2/56.7 = 0.0122 min", "0010"),
    # the unit of the gradient as a quotient
    ("tracer", "k = (3.69 - 5.10)/80 = -0.0176 1/min\nT½ = ln2/0.0176 = 49.3 min", "1110"),
    ("capacitor", "gradient = -1.61/40 = -0.0403 1/s, τ = 1/0.0403 = 24.8 s", "1111"),
    # prose with points
    ("tracer", "From (0, 5.10) and (80, 3.69): -0.0176 min⁻¹. ln R falls by ln 2 in each T½, so T½ = 0.693/0.0176 = 39.4 min", "1111"),
    ("slope", "From (1.0, 4.2) to (5.0, 17.0) the gradient is 3.2. The gradient is twice the acceleration so a = 1.6 m/s^2", "1111"),
]  # fmt: skip


@pytest.mark.parametrize(("scheme", "typed", "expected"), ROWS, ids=lambda v: v[:50])
def test_what_follows(scheme: str, typed: str, expected: str) -> None:
    result = mark_gradient(part(scheme), typed.split("\n"), {})
    got = "".join(f"{a.mark:g}" for a in result.awards)
    assert (got, result.referred) == (expected, False), [a.reason for a in result.awards]


@pytest.mark.parametrize(
    ("ruling", "typed", "expected"),
    [
        ("substitution mark, followed", ["gradient = (18.3 - 4.2)/(4.0 - 1.0) = 4.7", "a = 4.7/2 = 2.35 m/s^2"], "1011"),
        ("substitution mark, followed", ["gradient = (12.8 - 4.2)/(4.0 - 1.0) = 2.87", "a = 2.87/2 = 1.43 m/s^2"], "1011"),
        ("substitution mark, followed", ["gradient = (17.0 - 4.2)/(4.0 - 1.0) = 4.27", "a = 4.27/2 = 2.13 m/s^2"], "0011"),
        ("stop", ["gradient = (18.3 - 4.2)/(4.0 - 1.0) = 4.7", "a = 4.7/2 = 2.35 m/s^2"], "0011"),
    ],
)
def test_a_reading_copied_wrongly(ruling: str, typed: list[str], expected: str) -> None:
    """13.8 as 18.3 or 12.8 costs the gradient alone where the paper follows misread data; values of two readings are no slip of the pen."""
    spec = GradientSpec.model_validate({**tomllib.loads(SCHEMES["slope"]), "kind": "gradient"})
    made = compile_gradient(spec, Convention.model_validate({"transcription_slip": ruling}))
    assert "".join(str(int(a.mark)) for a in mark_gradient(made, typed, {}).awards) == expected
