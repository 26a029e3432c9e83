"""Rearrangements: each response with the mark an examiner gives. Common practice, no source.

"R" after a mark: referred, with that mark for the time being.
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
    row = {"name": "1a", "kind": "rearrangement", "stem": "Make it the subject.", **keys}
    return build_paper({"paper": {"title": "in letters", "rulings": rulings or {}}, "part": [row]}).parts[0]


PARTS: dict[str, dict[str, Any]] = {
    "speed": {"marks": 2, "subject": "v", "using": ["E = 1/2*m*v^2"]},
    "current": {"marks": 1, "subject": "I", "using": ["V = E - I*r"]},
    "resistor": {"marks": 2, "subject": "R_1", "using": ["1/R = 1/R_1 + 1/R_2"]},
    "decay": {"marks": 2, "subject": "t", "using": ["N = N_0*exp(-lambda*t)"]},
    "spring": {"marks": 2, "subject": "x", "using": ["E = 1/2*k*x^2"], "both_roots": True},
    "accelerated": {"marks": 2, "subject": "v", "using": ["E = q*V", "E = 1/2*m*v^2"], "in_terms_of": ["q", "V", "m"]},
    "field": {"marks": 1, "subject": "B", "using": ["F = B*I*L*sin(theta)"]},
    "lens": {"marks": 1, "subject": "f", "using": ["1/f = 1/u + 1/v"]},
    "pendulum": {"marks": 2, "subject": "g", "using": ["T = 2*pi*sqrt(l/g)"]},
    "motion": {"marks": 1, "subject": "a", "using": ["v^2 = u^2 + 2*a*s"]},
    "three points": {
        "marks": 3,
        "subject": "g",
        "using": ["T = 2*pi*sqrt(l/g)"],
        "points": [{"kind": "step", "of": "T^2 = 4*pi^2*l/g"}, {"kind": "step"}, {"kind": "answer"}],
    },
}

TYPED = {
    "speed": (
        ("v = √(2E/m)", "2"),
        ("E=1/2mv^2; 2E = mv²; v² = 2E/m; v = sqrt(2E/m)", "2"),
        ("v = (2E/m)^0.5", "2"),
        ("v = √2E/m", "2"),
        ("v = sqrt(E/(0.5m))", "2"),
        ("√(2E/m) = v", "2"),
        ("v = ±√(2E/m)", "2"),
        ("velocity = square root of (2E/m)", "2"),
        ("v = 1.414√(E/m)", "2"),
        ("2E=mv^2, so 2E/m=v^2, root both sides v=root(2E/m)", "2"),
        ("v = √(2KE/m)", "2"),
        ("v = \\sqrt{\\frac{2E}{m}}", "2"),
        ("v² = 2E/m", "1"),
        ("2E/m = v^2; v = 2E/m", "1"),
        ("2E = mv²; v = 2E/mv", "1"),
        ("v²=2E/m; v = √2E/√m; v=√(2Em)", "1"),
        ("mv² = 2E; 20 = 5v²; v = 2", "1"),
        ("v = 2E/m", "0"),
        ("v = √(m/2E)", "0"),
        ("v = √(E/2m)", "0"),
        ("v = √(2E)/m", "0"),
        ("v = 2E/mv", "0"),
        ("E = ½mv²", "0"),
        ("", "0"),
    ),
    "current": (
        ("I = (E-V)/r", "1"),
        ("I = E/r - V/r", "1"),
        ("Ir = E - V; I = (E - V)/r", "1"),
        ("I = -(V-E)/r", "1"),
        ("(E-V)÷r = I", "1"),
        ("I = (V-E)/r", "0"),
        ("I = r/(E-V)", "0"),
        ("I=E-V/r", "0R"),
    ),
    "resistor": (
        ("1/R1 = 1/R - 1/R2; R1 = R R2/(R2-R)", "2"),
        ("R1 = 1/(1/R - 1/R2)", "2"),
        ("R1 = (1/R - 1/R2)^-1", "2"),
        ("1/R1 = 1/R - 1/R2; R1 = R - R2", "1"),
        ("R1 = R - R2", "0"),
    ),
    "decay": (
        ("ln(N/N0) = -λt; t = -ln(N/N0)/λ", "2"),
        ("t = ln(N0/N)/λ", "2"),
        ("t = (lnN0 - ln N)/λ", "2"),
        ("N/N0 = e^-λt; t = ln(N/N0)/λ", "1"),
        ("t = λ ln(N0/N)", "0"),
    ),
    "spring": (("x = ±√(2E/k)", "2"), ("x=+/- sqrt(2E/k)", "2"), ("x = √(2E/k)", "1"), ("x² = 2E/k", "1")),
    "accelerated": (("qV = ½mv²; v = √(2qV/m)", "2"), ("v=√(2qV/m)", "2"), ("v = √(2E/m)", "1"), ("v = √(qV/m)", "0")),
    "field": (
        ("B = F/(ILsinθ)", "1"),
        ("B = F/ILsinθ", "1"),
        ("F÷(I×L×sin theta) = B", "1"),
        ("B = FIL/sinθ", "0"),
        ("B = IL sinθ/F", "0"),
        ("B = F/IL", "0"),
    ),
    "lens": (("f = uv/(u+v)", "1"), ("f = 1/(1/u+1/v)", "1"), ("f = u+v", "0"), ("f = (u+v)/uv", "0")),
    "pendulum": (
        ("T² = 4π²l/g; g = 4π²l/T²", "2"),
        ("g = l (2π/T)²", "2"),
        ("T/2π = √(l/g); g = l T²/4π²", "1"),
        ("T²/4π² = l/g; g = 4π²T²/l", "1"),
        ("g = 2π l/T²", "0"),
    ),
    "motion": (("a = (v²-u²)/2s", "1"), ("a = (v^2 - u^2)/(2s)", "1"), ("a = (v²+u²)/2s", "0"), ("a = v²/2s - u²", "0")),
    "three points": (
        ("T² = 4π²l/g; gT² = 4π²l; g = 4π²l/T²", "3"),
        ("gT² = 4π²l; g = T²/4π²l", "1"),
        ("T² = 4π²l/g; g = T²/4π²l", "2"),
        ("g = 4π²l/T²", "3"),
    ),
}


@dataclass(frozen=True)
class Row:
    setting: str
    typed: str
    mark: str

    def __str__(self) -> str:
        return f"{self.setting}: {self.typed}"


ROWS = [Row(s, t, m) for s, rows in TYPED.items() for t, m in rows]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_marks(row: Row) -> None:
    result = mark_response(part(**PARTS[row.setting]), row.typed.split("; "))
    got = f"{result.mark:g}{'R' if result.referred else ''}"
    assert got == row.mark, [f"{a.point}: {a.reason}" for a in result.awards]


FAULTS = (
    ("speed", "v = √(m/2E)", {"inverted-under-root"}),
    ("speed", "v = 2E/m", {"root-forgotten"}),
    ("speed", "2E = mv²; v = 2E/mv", {"subject-on-both-sides"}),
    ("current", "I = r/(E-V)", {"inverted-quotient"}),
    ("field", "B = IL sinθ/F", {"inverted-quotient"}),
    ("spring", "x = √(2E/k)", {"one-root-only"}),
    ("motion", "a = (v²+u²)/2s", {"sign"}),
)


@pytest.mark.parametrize(("setting", "typed", "codes"), FAULTS, ids=[t for _, t, _ in FAULTS])
def test_the_fault_is_named(setting: str, typed: str, codes: set[str]) -> None:
    found = {f.code for f in mark_response(part(**PARTS[setting]), typed.split("; ")).faults}
    assert found & codes, found


@pytest.mark.parametrize("setting", PARTS)
def test_the_model_answer_earns_all(setting: str) -> None:
    made = part(**PARTS[setting])
    result = mark_response(made, made.kind.model(made.compiled))
    assert (result.mark, result.referred) == (made.marks, False), [a.reason for a in result.awards]


RULED = (
    ("best", "I = (E-V)/r or I = E/r", 1),
    ("zero", "I = (E-V)/r or I = E/r", 0),
    ("first", "I = (E-V)/r or I = E/r", 1),
    ("last", "I = (E-V)/r or I = E/r", 0),
    ("zero", "I = (E-V)/r or I = E/r - V/r", 1),
)


@pytest.mark.parametrize(("ruling", "typed", "mark"), RULED)
def test_two_answers(ruling: str, typed: str, mark: float) -> None:
    assert mark_response(part({"two_answers": ruling}, **PARTS["current"]), [typed]).mark == mark


@pytest.mark.parametrize(("ruling", "mark"), [("counts", 0), ("ignored", 1)])
def test_work_after_a_right_answer(ruling: str, mark: float) -> None:
    assert mark_response(part({"later_work": ruling}, **PARTS["current"]), ["I = (E-V)/r", "I = E/r"]).mark == mark


REFUSED = (
    ({"subject": "z"}, "stands in none"),
    ({"in_terms_of": ["v", "m"]}, "other than the subject"),
    ({"marks": 5}, "fit no usual pattern"),
    ({"points": [{"kind": "step", "of": "v = E/m"}, {"kind": "answer"}]}, "does not follow"),
)


@pytest.mark.parametrize(("change", "says"), REFUSED, ids=[s for _, s in REFUSED])
def test_a_scheme_is_refused_with_its_mend(change: dict[str, Any], says: str) -> None:
    with pytest.raises(SchemeError) as refused:
        part(**{**PARTS["speed"], **change})
    assert says in str(refused.value)
