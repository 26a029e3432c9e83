"""Agreement with the examiner's marks does not fall below what it was.

The floors are development data: the engine was corrected on these responses, so a floor guards what was reached and says nothing of
a new class test. Each is one or two responses below the count measured. The marks are those of each folder's invented examiner.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.agreement.__main__ import HERE, Examined, between, compare

ROOT = HERE.parent
CLASSTESTS = HERE / "classtests"
SHARED = ROOT.parent / "shared" / "classtest"


class Floor(NamedTuple):
    """Counts of responses: agreeing of all, decided without referral, agreeing of the decided."""

    folder: Path
    marks: str
    agree: int
    decided: int
    agree_of_decided: int
    scheme: Path | None = None


FLOORS = (  # development data; measured: agree, decided, agree of decided
    Floor(CLASSTESTS / "river_ferry", "marks_first.csv", 158, 155, 155),  # 160, 157, 157 of 160
    Floor(CLASSTESTS / "river_ferry", "marks_second.csv", 158, 155, 155),  # 160, 157, 157 of 160
    Floor(CLASSTESTS / "observatory", "marks_first.csv", 242, 241, 238),  # 244, 243, 240 of 252
    Floor(CLASSTESTS / "observatory", "marks_second.csv", 242, 241, 238),  # 244, 243, 240 of 252
    Floor(CLASSTESTS / "quarry_railway", "marks_first.csv", 159, 165, 159),  # 161, 167, 161 of 168
    Floor(CLASSTESTS / "radio_workshop", "marks_first.csv", 163, 162, 160),  # 165, 164, 162 of 168
    Floor(CLASSTESTS / "ice_rink", "marks_first.csv", 242, 240, 235),  # 244, 242, 237 of 252
    Floor(CLASSTESTS / "ice_rink", "marks_second.csv", 243, 240, 236),  # 245, 242, 238 of 252
    Floor(CLASSTESTS / "lighthouse", "marks_first.csv", 241, 244, 236),  # 243, 246, 238 of 252
    Floor(CLASSTESTS / "lighthouse", "marks_second.csv", 239, 244, 234),  # 241, 246, 236 of 252
    Floor(CLASSTESTS / "bakery", "marks_first.csv", 179, 185, 175),  # 181, 187, 177 of 192
    Floor(CLASSTESTS / "harbour", "marks_first.csv", 208, 204, 202),  # 210, 206, 204 of 216
    Floor(CLASSTESTS / "planetarium", "marks_first.csv", 210, 204, 203),  # 212, 206, 205 of 216
    Floor(CLASSTESTS / "glasshouse", "marks_first.csv", 206, 206, 199),  # 208, 208, 201 of 216
    Floor(CLASSTESTS / "skatepark", "marks_first.csv", 206, 201, 199),  # 208, 203, 201 of 216
    Floor(CLASSTESTS / "windmill", "marks_first.csv", 202, 202, 197),  # 204, 204, 199 of 216
    Floor(CLASSTESTS / "fort_workshop", "marks_first.csv", 204, 200, 196),  # 206, 202, 198 of 216
    Floor(CLASSTESTS / "aqueduct", "marks_first.csv", 209, 210, 208),  # 211, 212, 210 of 216
    Floor(CLASSTESTS / "cinema", "marks_first.csv", 208, 202, 198),  # 210, 204, 200 of 216
    Floor(CLASSTESTS / "bell_tower", "marks_first.csv", 205, 203, 201),  # 207, 205, 203 of 216
    Floor(CLASSTESTS / "boatyard", "marks_first.csv", 210, 208, 206),  # 212, 210, 208 of 216
    Floor(CLASSTESTS / "tram_depot", "marks_first.csv", 203, 196, 191),  # 205, 198, 193 of 216
    Floor(CLASSTESTS / "weather_station", "marks_first.csv", 207, 206, 201),  # 209, 208, 203 of 216
    Floor(ROOT / "rubrics" / "demo", "expected.csv", 281, 280, 275),  # 283, 282, 277 of 288
    Floor(SHARED, "marks.csv", 214, 213, 213, HERE / "schemes" / "cable_car.toml"),  # 216, 215, 215 of 216
)
TWO_READINGS = ("river_ferry", "observatory", "ice_rink", "lighthouse")


@cache
def examined(floor: Floor) -> tuple[Examined, ...]:
    if not floor.folder.is_dir():
        pytest.skip(f"the folder {floor.folder.name} that lies beside the checkout is absent")
    return tuple(compare(floor.folder, floor.scheme or floor.folder / "scheme.toml", floor.marks))


def named(floor: Floor) -> str:
    return f"{floor.folder.name} {floor.marks}"


@pytest.mark.parametrize("floor", FLOORS, ids=named)
def test_agreement_holds(floor: Floor) -> None:
    found = examined(floor)
    decided = [one for one in found if one.decided]
    assert sum(one.agrees for one in found) >= floor.agree
    assert len(decided) >= floor.decided
    assert sum(one.agrees for one in decided) >= floor.agree_of_decided


@pytest.mark.parametrize("floor", FLOORS, ids=named)
def test_no_response_ends_as_a_fault_of_the_program(floor: Floor) -> None:
    found = examined(floor)
    assert found
    reasons = {(one.candidate, one.part): one.result.referral.reason for one in found if one.result.referral}
    assert {key for key, reason in reasons.items() if "fault of the program" in reason} == set()


@pytest.mark.parametrize("name", TWO_READINGS)
def test_engine_beside_two_readings(name: str) -> None:
    """Each reading as the engine's standard in turn; development data, so the allowance is what was measured and a little more."""
    first, second, readings = between(CLASSTESTS / name, CLASSTESTS / name / "scheme.toml")
    assert first.of == second.of == readings.of > 100
    # Measured, engine with each reading and the readings together: river_ferry 160 of 160 three times; observatory 244, 244 and 252 of
    # 252; ice_rink 243, 243 and 252; lighthouse 238, 237 and 251. The readings of one test come from much the same judgement.
    allowance = {"river_ferry": 0.01, "observatory": 0.05, "ice_rink": 0.05, "lighthouse": 0.08}[name]
    assert min(first.share, second.share) >= readings.share - allowance
