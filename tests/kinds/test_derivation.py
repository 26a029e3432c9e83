"""Derivations in letters: each response with the mark an examiner gives. Common practice, no source, where no other is named.

The relationships are those of any textbook; the responses are written as candidates type them. "R" after a mark: referred, with
that mark for the time being.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from marker import build_paper
from marker.errors import SchemeError
from marker.marking import mark_response
from marker.scheme.paper import CompiledPart


def part(rulings: dict[str, Any] | None = None, **keys: Any) -> CompiledPart:
    row = {"name": "1a", "kind": "derivation", "stem": "Show that.", **keys}
    return build_paper({"paper": {"title": "in letters", "rulings": rulings or {}}, "part": [row]}).parts[0]


PARTS: dict[str, dict[str, Any]] = {
    "circle in a field": {"marks": 3, "target": "r = m*v/(B*q)", "using": ["F = B*q*v", "F = m*v^2/r"], "also": ["p = m*v"]},
    "electron gun": {"marks": 3, "target": "v = sqrt(2*q*V/m)", "using": ["E = q*V", "E = 1/2*m*v^2"]},
    "field between plates": {"marks": 4, "target": "E = V/d", "using": ["W = q*V", "W = F*d", "E = F/q"]},
    "period in a field": {"marks": 3, "target": "T = 2*pi*m/(B*q)", "using": ["F = B*q*v", "F = m*v^2/r", "v = 2*pi*r/T"]},
    "velocity selector": {"marks": 2, "target": "v = E/B", "using": ["F = B*q*v", "F = E*q"]},
    "in parallel": {"marks": 3, "target": "1/R = 1/R_1 + 1/R_2", "using": ["I = I_1 + I_2", "I = V/R", "I_1 = V/R_1", "I_2 = V/R_2"]},
    "field of a planet": {"marks": 2, "target": "g = G*M/r^2", "using": ["F = G*M*m/r^2", "g = F/m"]},
    "Kepler": {
        "marks": 3,
        "target": "T^2 = 4*pi^2*r^3/(G*M)",
        "using": ["F = G*M*m/r^2", "F = m*v^2/r", "v = 2*pi*r/T"],
        "also": ["omega = v/r"],
    },
    "Hall": {"marks": 3, "target": "V = B*v*d", "using": ["F = B*q*v", "F = q*E", "E = V/d"]},
    "force on a moving charge": {"marks": 3, "target": "F = B*q*v", "using": ["F = B*I*L", "I = q/t", "v = L/t"]},
    "starts put together": {"marks": 2, "target": "T = 2*pi*m/(B*q)", "using": ["B*q*v = m*v^2/r", "v = 2*pi*r/T"]},
    "definitions to spare": {
        "marks": 2,
        "target": "v = sqrt(G*M/r)",
        "using": ["F = G*M*m/r^2", "F = m*v^2/r"],
        "also": ["v = omega*r", "omega = 2*pi/T", "v = 2*pi*r/T"],
    },
    "a consequence to spare": {
        "marks": 2,
        "target": "T = 2*pi*m/(B*q)",
        "using": ["F = B*q*v", "F = m*v^2/r", "v = 2*pi*r/T"],
        "also": ["r = m*v/(B*q)"],
    },
    "at right angles": {"marks": 1, "target": "F = B*I*L", "using": ["F = B*I*L*sin(theta)"], "given": {"theta": "90°"}},
}


@dataclass(frozen=True)
class Row:
    setting: str
    typed: str
    mark: str

    def __str__(self) -> str:
        return f"{self.setting}: {self.typed}"


CIRCLE = (
    ("Bqv = mv²/r; r = mv/qB", "3"),
    ("F = Bqv; F = mv^2/r; equating the forces; Bqv = mv^2/r; cancel v; Bq = mv/r; so r=mv/Bq", "3"),
    ("centripetal force = magnetic force; mv2/r = Bqv; r = mv/Bq", "3"),
    ("F = Bqv = mv²/r => Bqr=mv => r=mv/(Bq) QED", "3"),
    ("F=BQv F=mv2/r; BQv=mv2/r; BQr = mv;  r = mv/BQ", "3"),
    ("Magnetic force provides centripetal force so Bqv = mv²/r, rearranging for r gives r = mv/qB as required", "3"),
    ("m v²/r - Bqv = 0; r = mv²/Bqv = mv/Bq", "3"),
    ("to show r = mv/qB; Bqv = mv²/r; Bq = mv/r; r = mv/Bq", "3"),
    ("\\frac{mv^2}{r} = Bqv; r = \\frac{mv}{Bq}", "3"),
    ("magnetic force = BQv, centripetal force = mv^2/r; divide by v BQ = mv/r; multiply by r and divide by BQ; r = mv/BQ", "3"),
    ("F=Bqv and F=mv²/r; Bqv=mv²/r; divide both sides by v; Bq=mv/r; x r: Bqr = mv; ÷Bq: r = mv/Bq", "3"),
    ("mv²/r = BQv  therefore mv/r = BQ   therefore r = mv/BQ", "3"),
    ("qvB = m v² / r ⇒ r = p/qB", "3"),
    ("~~F = mv/r~~; F = mv²/r; F = Bqv; Bqv = mv²/r; r = mv/Bq", "3"),
    ("F = Bev; F=mv²/r; r = mv/Be", "2R"),
    ("F = qvB sinθ, θ=90 so F = qvB; F = mv²/R; R = mv/qB", "2R"),
    ("Bqv=mv²/r; r = Bq/mv", "2"),
    ("Bqv=mv²/r; Bqr=mv²; r=mv/Bq", "2"),
    ("Bqv = mv²/r", "2"),
    ("Bqv = mv²/r; Bqr = mv", "2"),
    ("F = Bqv; r = mv/Bq", "1"),
    ("F = mv²r; F = Bqv; Bqv = mv²r; r = Bq/mv", "1"),
    ("Bqv = mv/r; r = m/Bq", "0"),
    ("r = mv/Bq", "0"),
    ("r = mv/Bq because the magnetic force makes it go in a circle", "0"),
    ("r=mv/qB; rqB = mv; qvB=mv²/r", "0R"),
    ("1.6e-19*2*3 = 9.11e-31*9/r; r = 3", "0"),
    ("", "0"),
    ("I don't know", "0"),
)
OTHERS = {
    "electron gun": (
        ("qV = ½mv²; v² = 2qV/m; v = √(2qV/m)", "3"),
        ("E = qV; E=1/2mv^2; 1/2mv^2 = qV; mv^2 = 2qV; v = sqrt(2qV/m)", "3"),
        ("eV = ½mv²; v²=2eV/m; v=√(2eV/m)", "3"),
        ("loss in electric potential energy = gain in kinetic energy; QV = 1/2mv2; v2=2QV/m; v = (2QV/m)^0.5", "3"),
        ("W = qV; KE = ½mv²; v = √(2qV/m)", "2R"),
        ("½mv² = qV; v = 2qV/m", "2"),
        ("1/2 mv2 = qV; v = √2qVm", "2"),
        ("v²=2qV/m; v=√(2qV/m)", "0"),
        ("½mv² = Fd; v = √(2Fd/m)", "1"),
    ),
    "field between plates": (
        ("W = qV; W = Fd; qV = Fd; F/q = V/d; E = F/q so E = V/d", "4"),
        ("W=QV=Fd; V/d = F/Q = E", "4"),
        ("F = Eq; W = Fd = Eqd; W = qV; qV = Eqd; E = V/d", "4"),
        ("W=qV; E = V/d", "1"),
    ),
    "period in a field": (
        ("Bqv = mv²/r; r = mv/Bq; T = 2πr/v = 2πm/Bq", "3"),
        ("BQv = mv2/r; v = BQr/m; 2pi r/T = BQr/m; T = 2pi m/BQ", "3"),
        ("F=Bqv=mv²/r; v/r = Bq/m; v = 2πr/T; 2π/T = Bq/m; T=2πm/(Bq)", "3"),
        ("Bqv = mv²/r; v = 2πr/T; T = Bq/2πm", "2"),
        # some of the starts put together in another form count as stated (common practice, no source)
        ("v = Bqr/m; v = 2πr/T; T = 2πm/Bq", "3"),
        ("r = mv/Bq; T = 2πr/v; put one into the other", "2"),
        # a product in words; the sign that all is shown
        ("B times q times v = m times v squared over r; r = m v over B q; T = 2 pi r over v = 2 pi m over B q", "3"),
        ("Bqv = mv²/r; times both sides by r Bqr = mv; v = 2πr/T; T = 2πm/Bq ∎", "3"),
        ("Bqv = mv²/r; v = 2πr/T; Bq = 2πm/T; T = 2πm/Bq □", "3"),
    ),
    "definitions to spare": (
        ("GMm/r² = mω²r; v = ωr; v = √(GM/r)", "2"),
        ("GMm/r² = mv²/r; v = √(GM/r)", "2"),
        ("v = √(GM/r)", "0"),
    ),
    "a consequence to spare": (("Bqv = mv²/r; r = mv/Bq; T = 2πr/v; T = 2πm/Bq", "2"), ("v = 2πr/T; T = 2πm/Bq", "0")),
    "velocity selector": (
        ("Bqv = Eq; v = E/B", "2"),
        ("electric force = magnetic force; qE = qvB; E=vB; v=E/B", "2"),
        ("F = Bqv = Eq; v = E/B", "2"),
        ("Bqv = Eq; v = B/E", "1"),
        ("v = E/B since forces balance", "0"),
        ("F=Bqv; F=Eq; v=E/B", "1R"),
    ),
    "in parallel": (
        ("I = I1 + I2; V/R = V/R1 + V/R2; 1/R = 1/R1 + 1/R2", "3"),
        ("I1 = V/R1, I2 = V/R2; I = I1+I2 = V/R1 + V/R2; V/R = V/R1+V/R2; 1/R = 1/R1+1/R2", "3"),
        ("R = R1+R2", "0"),
    ),
    "field of a planet": (
        ("F = GMm/r²; g = F/m = GM/r²", "2"),
        ("mg = GMm/r^2; g = GM/r^2", "2"),
        ("g = GM/r²", "0"),
        ("F = GMm/r; g = F/m", "0"),
    ),
    "Kepler": (
        ("GMm/r² = mv²/r; v² = GM/r; v = 2πr/T; 4π²r²/T² = GM/r; T² = 4π²r³/GM", "3"),
        ("GMm/r^2 = mω²r; ω = 2π/T; GM/r^3 = 4π²/T²; T² = 4π²r³/(GM)", "3"),
    ),
    "Hall": (("qE = Bqv; E = V/d; qV/d = Bqv; V = Bvd", "3"), ("eV/d = Bev; V = Bvd", "3"), ("V = Bvd", "0")),
    "force on a moving charge": (
        ("F = BIL; I = Q/t; L = vt; F = B(Q/t)vt = BQv", "3"),
        ("F=BIL; I = q/t so F = BqL/t; v = L/t; F = Bqv", "3"),
        ("F = BIL; I=qt; F = Bqv", "0"),
    ),
    "at right angles": (("F = BILsinθ; sin90 = 1; F = BIL", "1"), ("F = BIL sin θ; F = BIL", "1")),
}
ROWS = [Row("circle in a field", t, m) for t, m in CIRCLE] + [Row(s, t, m) for s, rows in OTHERS.items() for t, m in rows]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_marks(row: Row) -> None:
    result = mark_response(part(**PARTS[row.setting]), row.typed.split("; "))
    got = f"{result.mark:g}{'R' if result.referred else ''}"
    assert got == row.mark, [f"{a.point}: {a.reason}" for a in result.awards]


def test_a_line_that_does_not_follow_is_named_with_its_fault() -> None:
    result = mark_response(part(**PARTS["circle in a field"]), ["F = Bqv", "F = mv²/r", "Bqv = mv²/r", "r = Bq/mv"])
    assert [x.verdict for x in result.lines] == ["right", "right", "right", "wrong"]
    assert [(f.code, f.line) for f in result.faults] == [("inverted-quotient", 4)] or result.faults[0].line == 4
    assert result.awards[-1].lines == (4,)


def test_a_line_says_what_it_does() -> None:
    typed = ["r = mv/Bq", "F = Bqv", "F = mv²/r", "mv²/r = Bqv", "Bq = mv/r", "3 = 2"]
    notes = [x.note for x in mark_response(part(**PARTS["circle in a field"]), typed).lines]
    assert notes[0].startswith("rests on the target itself")
    assert notes[1] == "states F = Bqv" and notes[3] == "puts F = Bqv and F = mv²/r together"
    assert notes[4] == "follows from the lines before it"


def test_a_line_after_a_wrong_one_may_follow_from_it() -> None:
    result = mark_response(part(**PARTS["circle in a field"]), ["F = Bqv", "F = mv²r", "Bqv = mv²r"])
    assert [x.verdict for x in result.lines] == ["right", "wrong", "follows"]


LEAP = ["F = Bqv", "F = mv²/r", "r = mv/Bq"]
BACK = ["r = mv/qB", "rqB = mv", "qvB = mv²/r"]


@pytest.mark.parametrize(
    ("rulings", "typed", "mark", "referred"),
    [
        ({"derivation_gap": "accepted"}, LEAP, 3, False),
        ({"derivation_gap": "refused"}, LEAP, 2, False),
        ({"show_reverse": True}, BACK, 3, False),
        ({"show_final_line": False}, ["Bqv = mv²/r", "Bqr = mv"], 3, False),
        ({"right_from_wrong": "refer"}, ["Bqv = mv²/r", "Bqr = mv²", "r = mv/Bq"], 2, True),
        ({"right_from_wrong": "full"}, ["Bqv = mv²/r", "Bqr = mv²", "r = mv/Bq"], 3, False),
    ],
)
def test_rulings(rulings: dict[str, Any], typed: list[str], mark: float, referred: bool) -> None:
    result = mark_response(part(rulings, **PARTS["circle in a field"]), typed)
    assert (result.mark, result.referred) == (mark, referred), [a.reason for a in result.awards]


@pytest.mark.parametrize("setting", PARTS)
def test_the_model_answer_earns_all(setting: str) -> None:
    made = part(**PARTS[setting])
    result = mark_response(made, made.kind.model(made.compiled))
    assert (result.mark, result.referred) == (made.marks, False), [a.reason for a in result.awards]


POINTS = [{"kind": "start"}, {"kind": "step", "of": "B*q*v = m*v^2/r"}, {"kind": "target"}]


@pytest.mark.parametrize(
    ("typed", "marks"),
    [("F = Bqv, F = mv²/r; Bqv = mv²/r; r = mv/Bq", [1, 1, 1]), ("F = Bqv, F = mv²/r; r = mvBq", [1, 0, 0]), ("Bqv = mv²/r", [1, 1, 0])],
)
def test_points_of_the_scheme(typed: str, marks: list[float]) -> None:
    made = part(**{**PARTS["circle in a field"], "points": POINTS})
    assert [a.mark for a in mark_response(made, typed.split("; ")).awards] == marks


REFUSED = (
    ({"target": "r = m*v/B"}, "does not follow"),
    ({"target": "r"}, "no equation"),
    ({"target": "r = k*v"}, "stands in no relationship"),
    ({"marks": 7}, "fit no usual pattern"),
    ({"using": ["F = B*q*v", "F = m*v^2/r", "r = m*v/(B*q)"]}, "Leave r = mv/(Bq) out of using"),
    ({"also": ["p = m*v", "p = 3*m*v"]}, "cannot all hold together"),
    ({"points": [{"kind": "target"}]}, "add up to 1"),
    ({"points": [{"kind": "start", "of": "E = m*c^2"}, {"kind": "target", "marks": 2}]}, "not one of the starting"),
)


@pytest.mark.parametrize(("change", "says"), REFUSED, ids=[s for _, s in REFUSED])
def test_a_scheme_is_refused_with_its_mend(change: dict[str, Any], says: str) -> None:
    with pytest.raises(SchemeError) as refused:
        part(**{**PARTS["circle in a field"], **change})
    assert says in str(refused.value)
