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
    "sphere": {"marks": 2, "subject": "R", "using": ["V = 4/3*pi*R^3"]},
    "wind": {"marks": 2, "subject": "v", "using": ["P = 1/2*rho*A*v^3"]},
    "lamp": {"marks": 2, "subject": "T", "using": ["P = sigma*A*T^4"]},
    "surroundings": {"marks": 1, "subject": "S", "using": ["P = k*(T^4 - S^4)"]},
    "gas": {"marks": 1, "subject": "V", "using": ["p*V^(5/3) = K"]},
    "halves": {"marks": 2, "subject": "T", "using": ["A = A_0*(1/2)^(t/T)"]},
    "glass": {"marks": 1, "subject": "b", "using": ["n = sin(a)/sin(b)"]},
    "swing": {"marks": 1, "subject": "t", "using": ["x = A*cos(omega*t)"]},
    "height": {"marks": 1, "subject": "h", "using": ["g = G*M/(R + h)^2"]},
    "level": {"marks": 1, "subject": "I", "using": ["L = 10*log10(I/I_0)"]},
    "charging": {"marks": 1, "subject": "t", "using": ["V = V_0*(1 - exp(-t/(R*C)))"]},
    "fast": {"marks": 1, "subject": "v", "using": ["m = m_0/sqrt(1 - v^2/c^2)"]},
    "orbit": {"marks": 2, "subject": "r", "using": ["v = 2*pi*r/T", "G*M*m/r^2 = m*v^2/r"], "in_terms_of": ["T", "G", "M"]},
    "solved already": {
        "marks": 2,
        "subject": "a",
        "stem": "The drum obeys n² = kb/(a³d). Make a the subject.",
        "using": ["a = (k*b/(d*n^2))^(1/3)"],
    },
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
        # quantities in words, a root of the line before, a unit after a formula (common practice, no source)
        ("speed = square root of (2 times energy divided by mass)", "2"),
        ("v squared = 2 times energy over mass; v = square root of that", "2"),
        ("v² = 2E/m; v = √(2E/m) in m/s", "2"),
        ("v = square root of that", "0"),
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
    "sphere": (
        ("3V = 4πR³; R³ = 3V/4π; R = ∛(3V/4π)", "2"),
        ("R3 = 3V/4pi; R = 3root(3V/4pi)", "2"),
        ("R = 3√(3V/4π)", "2"),
        ("R = ³√(3V/4π)", "2"),
        ("R = cube root of (3V/4pi)", "2"),
        ("R = cuberoot(3V/4pi)", "2"),
        ("R = 3rd root of 3V/4π", "2"),
        ("R = (3V/4π)^1/3", "2"),
        ("R = (3V/4π)⅓", "2"),
        ("R = (3V/(4π))^0.333", "2"),
        ("R=(0.75V/pi)^(1/3)", "2"),
        ("R3 = 3V/4pi", "1"),
        ("3V/4pi2=R3", "0"),
        ("R³ = 3V/4π; R = √(3V/4π)", "1"),
        ("R³ = 4π/3V; R = ∛(4π/3V)", "0"),
        ("V = 4/3πR³; R³ = V/3", "0"),
        ("R = √(3V/4π)", "0"),
        ("R = 3V/4π", "0"),
    ),
    "wind": (
        ("2P = ρAv³; v = (2P/ρA)^(1/3)", "2"),
        ("v3 = 2P/ρA; v = 3root(2P/ρA)", "2"),
        ("v = ∛(P/0.5ρA)", "2"),
        ("v³ = 2P/ρA; v = √(2P/ρA)", "1"),
        ("v = √(2P/ρA)", "0"),
        ("P = ½ρAv³; v = 2P/3ρA", "0"),
    ),
    "lamp": (
        ("T = ⁴√(P/σA)", "2"),
        ("T = fourth root of (P/σA)", "2"),
        ("T4 = P/σA; T=4root(P/σA)", "2"),
        ("T = (P/σA)^0.25", "2"),
        ("T = √√(P/σA)", "2"),
        ("T⁴ = P/σA; T = √(P/σA)", "1"),
        ("T = P/4σA", "0"),
    ),
    "surroundings": (("S = (T⁴ - P/k)^(1/4)", "1"), ("S = ∜(T⁴ - P/k)", "1"), ("S = T - (P/k)^(1/4)", "0"), ("S = (T⁴ + P/k)^(1/4)", "0")),
    "gas": (("V = (K/p)^(3/5)", "1"), ("V = (K/p)^0.6", "1"), ("V = (K/p)^(5/3)", "0")),
    "halves": (
        ("ln(A/A0) = (t/T) ln(1/2); T = t ln(1/2)/ln(A/A0)", "2"),
        ("T = t ln2/ln(A0/A)", "2"),
        ("ln(A/A0) = t/T ln0.5; T = ln(A/A0)/(t ln 0.5)", "1"),
        ("T = t/2 × A0/A", "0"),
    ),
    "glass": (("b = sin^-1(sin a/n)", "1"), ("b = arcsin(sina/n)", "1"), ("b = sin a/n", "0"), ("b = sin^-1(n sin a)", "0")),
    "swing": (("t = cos⁻¹(x/A)/ω", "1"), ("t = (1/ω) arccos(x/A)", "1"), ("t = x/(A cos ω)", "0")),
    "height": (("h = √(GM/g) - R", "1"), ("R+h = root(GM/g); h = root(GM/g) - R", "1"), ("h = √(GM/g) + R", "0"), ("h = √(GM/g - R)", "0")),
    "level": (("I = I0 10^(L/10)", "1"), ("I = I0 L/10", "0")),
    "charging": (("t = -RC ln(1 - V/V0)", "1"), ("t = RC ln(V0/(V0-V))", "1"), ("t = RC ln(1 - V/V0)", "0")),
    "fast": (("v = c√(1 - (m0/m)²)", "1"), ("v = c(1 - m0/m)", "0"), ("v = c√(1 - (m/m0)²)", "0")),
    "orbit": (
        ("GM/r = v²; GM/r = 4π²r²/T²; r = ∛(GMT²/4π²)", "2"),
        ("r³ = GMT²/4π²", "1"),
        ("r = GM/v²", "1"),
        ("r = vT/2π", "1"),
    ),
    "solved already": (
        ("a³ = kb/(dn²); a = (kb/(dn²))^(1/3)", "2"),
        ("a3n2d = kb", "1"),
        ("n² = kb/(a³d)", "0"),
        ("n2=kb/a3d; a = kb/dn2", "0"),
    ),
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
