"""The lines of tests/reading/blind_lines.py, first readings against the meaning given beforehand. First run: 40 of 45.

Invented; common practice, no source. What a line could still not be read as stands in NOT_YET, with the reason.
"""

import pytest

from marker.reading import read_lines
from tests.reading.blind_lines import LINES
from tests.reading.tables import TABLES, shown

NOT_YET = {
    "λ=h/sqrt(2meV)": "without a part meV is a unit after a number",
    "1/Ct = 1/4.7 + 1/10": "without a part Ct is a product",
    "emf = -N dPhi/dt": "a Greek name after the d of a change",
    "Vp/Vs = Np/Ns": "without a part Vp is a product",
    "1/2 m c^2 = 3/2 k T": "without a part 1/2 m is half a metre",
}


def _read(text: str) -> list[str]:
    return [shown(s.readings[0]).replace("½", "(1/2)") for s in read_lines([text], TABLES[""])[0].statements]


@pytest.mark.parametrize(
    ("typed", "meant"),
    [pytest.param(*row, marks=pytest.mark.xfail(strict=True, reason=NOT_YET[row[0]]) if row[0] in NOT_YET else ()) for row in LINES],
)
def test_the_first_reading_is_what_a_teacher_means(typed: str, meant: str) -> None:
    assert _read(typed) == [one for part in meant.split(" ; ") for one in _read(part)] != []
