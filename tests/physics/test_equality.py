"""Whether two sides agree. Rounding: common practice, no source; the conversions are those of the SI Brochure, 9th edition, table 8."""

import pytest

from marker.physics.equality import Grade, equal
from marker.reading import read_lines
from marker.reading.model import SymbolTable

# typed, whether it holds, and how
ROWS = (
    ("0.5 × 3.0 × 6.5^2 = 63", True, Grade.EXACT),
    ("2.0 × 6.4 × 10.0 = 130", True, Grade.EXACT),  # 128 to two figures
    ("2.0 × 6.4 × 10.0 = 140", False, Grade.FALSE),
    ("65 × 9.8 ≈ 600", True, Grade.EXACT),  # 637, to one figure
    ("65 × 9.8 = 600", False, Grade.FALSE),
    ("1350 g = 1.35 kg", True, Grade.EXACT),
    ("1350 g = 1.34 kg", False, Grade.FALSE),  # said again, and not rounded
    ("2.4668 = 2.47", True, Grade.EXACT),
    ("2.4668 = 2.46", False, Grade.FALSE),
    ("√(52.4) = 7.2388", True, Grade.EXACT),
    ("√(52.4) = 7.2988", False, Grade.FALSE),  # 0.8 % off, and shown to five figures
    ("√(52.4) = 7.30", True, Grade.CLOSE),  # a number rounded on the way
    ("4900 × 0.33 = 1633.33", True, Grade.CLOSE),  # the third was put in, and two figures of it typed
    ("(4.0 Ω)^2 = (3.0 rad/s × 5.0 H − 11.0 Ω)^2", True, Grade.EXACT),  # an angle is a number in a sum
    ("20 °C = 293 K", False, Grade.SCALES),
)


@pytest.mark.parametrize(("typed", "holds", "grade"), ROWS, ids=[row[0] for row in ROWS])
def test_equality_as_typed(typed: str, holds: bool, grade: Grade) -> None:
    reading = read_lines([typed], SymbolTable())[0].statements[0].readings[0]
    found = equal(*reading.sides, roughly=reading.relations[0] == "≈")
    assert (found.holds, found.grade) == (holds, grade)
