"""What candidates type in a hurry, and the meaning a physics teacher sees in it.

FIRST rows: what is typed, the first reading of each statement, the part's symbols. AMONG rows: what is typed and a reading that must be
among those of its first statement, since only the data can tell. NEVER rows: a meaning no reading may have. Common practice of school
physics, no source.
"""

import pytest

from marker.expression import Product
from marker.reading import read_lines
from tests.reading.tables import TABLES, all_readings, first_readings, read, shown

FIRST: tuple[tuple[str, ...], ...] = (
    # x multiplies
    ("42000 x 0.114", "42000 × 0.114", "motion"),
    ("0.65 x 3.34 x 10^4 = 21700", "0.65 × (3.34 × 10⁴) = 21700", "motion"),
    ("v = 2xa", "v = 2a", "motion"),
    ("F = m x 3", "F = m × 3", "names"),
    ("F = m x a", "F = ma", "motion"),
    ("s = u x t", "s = ut", "motion"),
    ("v^2 = 2 x acceleration x 54", "v² = 2a × 54", "names"),
    ("kinetic energy = half x mass x speed squared", "Eₖ = ½mv²", "names"),
    ("5.4 = half x 0.000325 x voltage", "5.4 = ½ × 0.000325 × V", "names"),
    ("mass x 3 = 12", "m × 3 = 12", "names"),
    # letters for an index
    ("vy = 11.5 sin 35", "v_y = 11.5 sin 35", "motion"),
    ("vy^2 = 43.6", "v_y² = 43.6", "motion"),
    ("Rp = 5.6", "Rₚ = 5.6", "circuit"),
    ("F = ma = 6", "F = ma = 6", "names"),
    ("E = hf = 3", "E = hf = 3", "motion"),
    ("p = mv", "p = mv", "motion"),
    ("F = ma", "F = ma", "motion"),
    ("E1·r1² = E2·r2²", "E₁r₁² = E₂r₂²"),
    ("m1·v1 − m2·v2 = 0", "m₁v₁ − m₂v₂ = 0"),
    # a change written with d
    ("Q = m*c*dT", "Q = mcΔT", "motion"),
    ("a = dv/dt", "a = Δv/Δt", "motion"),
    ("dV = 3.2", "ΔV = 3.2"),
    # powers of e with the superscript lost
    ("A = A0e-λt", "A = A₀ exp(−λt)"),
    ("A = 74e-0.131x18 = 7.0", "A = 74 exp(−0.131 × 18) = 7.0"),
    ("V = V0e-t/RC", "V = V₀ exp(−t/(RC))"),
    ("W = 3.2e-19 J", "W = 3.2 × 10⁻¹⁹ J", "charge"),
)

# one line each: first readings, joined as in FIRST; what the words say is kept apart from what the figures say
WORDS: tuple[tuple[str, ...], ...] = (
    # so many times
    ("74 halved 3.4 times = 7.0 kBq", "74 × (1/2)³·⁴ = 7.0 kBq"),
    ("74 kBq halved twice is 18.5 kBq", "74 kBq × (1/2)² = 18.5 kBq"),
    ("3 doubled 4 times = 48", "3 × 2⁴ = 48"),
    ("the speed is halved", ""),
    ("d = 1/300 of a millimetre", "d = 1/300 mm"),
    ("V = c x change in lambda / lambda", "V = cΔλ/λ"),
    # numbers in words beside letters
    ("T = two pi times the square root of mass over k", "T = 2π√(m/k)", "names"),
    ("A = four pi r squared", "A = 4πr²"),
    # slips of the finger
    ("v = 7.8 meters per secund", "v = 7.8 m s⁻¹"),
    ("W = 3.4x10⁻¹² joulls", "W = 3.4 × 10⁻¹² J"),
    ("p = 13200 pascles", "p = 13200 Pa"),
    ("k = 51400 newtens per meter", "k = 51400 N m⁻¹"),
    ("R = 2.05 omhs", "R = 2.05 Ω"),
    ("f = 693 hurtz", "f = 693 Hz"),
    ("T = 2 pi squer root m over k", "T = 2π√(m/k)"),
    ("A = pi r sqerd", "A = πr²"),
    ("a = 3.2 metals", "a = 3.2"),
    ("V = 3.2v", "V = 3.2 V", "circuit"),
    ("s = 3.2v", "s = 3.2v", "motion"),
    ("R = 4.7 kilo oms", "R = 4.7 kΩ"),
    ("R = 4.7 kilo ohms", "R = 4.7 kΩ"),
    ("R = 2.05 oms", "R = 2.05 Ω"),
    ("R = 3.3k", "R = 3.3k"),
    ("Rt = 12 ohm", "Rₜ = 12 Ω", "circuit"),
    ("P = I^2R = 1.62^2 x 2.4=6.3W", "P = I²R = 1.62² × 2.4 = 6.3 W", "circuit"),
    ("v sq = 14.2", "v² = 14.2", "motion"),
    ("F = W : s = 42,5 J : 17,0 m = 2,5 N", "F = W/s = 42.5 J/(17.0 m) = 2.5 N"),
    ("V = 5.2 M/S", "V = 5.2 m s⁻¹"),
    ("I = 3a", "I = 3 A", "circuit"),
    ("v = 3a", "v = 3a", "motion"),
    ("Q = mcDT", "Q = mcΔT", "heating"),
    # proportions in words
    ("I is inversely proportional to d squared", "I ∝ 1/d²"),
    ("intensity goes down with distance squared", "intensity ∝ 1/distance²"),
    # nuclides are no powers, quotients or differences
    ("^{226}_{88}Ra → ^{222}_{86}Rn + ^4_2He", "Ra_226 ; Rn_222 + He₄"),
    ("226/88 Ra -> 222/86 Rn + 4/2 He", "Ra_226 ; Rn_222 + He₄"),
    ("K-40 decays to Ar-40", "K₄₀ ; Ar₄₀"),
    ("V = 12/6 C", "V = 12/(6 C)"),
    ("F = N-14", "F = N − 14"),
    # a function of the time
    ("x(t) = 4t + 7", "x = 4t + 7"),
    ("v(0) = 5 m/s", "v₀ = 5 m s⁻¹"),
    ("s = v(t)", "s = vt"),
    ("t = 2h 15m", "t = 2 h + 15 min"),
    ("θ = 48 deg 20 min", "θ = 48° + 20′"),
    ("η = 0.25 i.e. 25 %", "η = 0.25 ; 25 %"),
    # units run together, letters after a raised figure, the sine of a letter (common practice, no source)
    ("c = 450 J/kgK", "c = 450 J kg⁻¹ K⁻¹"),
    ("R = 8.31 J/molK", "R = 8.31 J mol⁻¹ K⁻¹"),
    ("k = 4π²m/T²", "k = 4π²m/T²"),
    ("g = 4π²l/T²", "g = 4π²l/T²"),
    ("sinr = sini/1.4", "sin r = sin i/1.4"),
    # a dash is a minus sign where a hyphen is typed
    ("Δv = 12-30 m/s", "Δv = 12 − 30 m s⁻¹"),
    ("ratio = 0.3 recurring", "ratio = 0.3 recurring"),
    ("T rises from 20 °C to 80 °C", "20 °C ; 80 °C"),
    # words in brackets: a remark, a factor, an index (common practice, no source)
    ("p = 12 (the force) × 2 = 24 N", "p = 12 × 2 = 24 N"),
    ("v (at the top) = 0", "v = 0"),
    ("h = E/(mg)", "h = E/(mg)"),
    ("p = (mass)(velocity)", "p = mass × velocity"),
    ("E = 1/2(mass)(velocity)^2", "E = (1/2) × mass × velocity²"),
    ("P(out) = 5.0 W", "P_out = 5.0 W"),
    ("eff = P (out)/P (in)", "eff = P_out/Pᵢₙ"),
    ("I = 3 A (max)", "I = 3 A"),
    ("n = (N molecules/m^3)/(3 molecules/mol)", "n = N molecule m⁻³/(3 molecule mol⁻¹)"),
    # a function's name inside a word is none; between letters it is one
    ("power=energy/instant", "power = energy/instant"),
    ("k=constant*extension", "k = constant × extension"),
    ("q=distance/resistance²", "q = distance/resistance²"),
    ("W=mgsintheta*d", "W = mg sin θ d"),
    ("x=Acoswt", "x = A cos(wt)"),
    ("x=Acosωt", "x = A cos(ωt)"),
    ("F is proportional to the square of the speed", "F ∝ v²", "names"),
    ("the current goes down with time", ""),
    # a ratio
    ("p = 4120,2 : 0,312 = 13,2 kPa", "p = 4120.2/0.312 = 13.2 kPa"),
    ("step 1 : 3 x 4 = 12", "3 × 4 = 12"),
    # typeset indices
    (r"P_\text{out} = \frac{mgh}{t} = 3.7\,\text{W}", "P_out = mgh/t = 3.7 W"),
    (r"$V_{\mathrm{peak}} = \sqrt{2}\,V_s$", "V_peak = √2Vₛ"),
    ("V=2*PI*1.35", "V = 2π × 1.35"),
    # spreadsheet functions
    ("=POWER(7.0,2)*3", "= 7.0² × 3"),
    ("=DEGREES(ASIN(0.59))", "= sin⁻¹ 0.59"),
    ("=3*EXP(-0.13*18)", "= 3 exp(−0.13 × 18)"),
    # headings, and quantities before a colon
    ("Eq: F = ma", "F = ma"),
    ("Sub: 3 x 4 = 12", "3 × 4 = 12"),
    ("freezing: mL = 0.65 x 334 = 217", "mL = 0.65 × 334 = 217"),
    ("y: 0 = 3 - t", "0 = 3 − t"),
    ("F: 12 N", "F = 12 N", "names"),
    # words that index a letter, or belong to a name
    ("p before = 85x1.4 = 119", "p_before = 85 × 1.4 = 119"),
    ("momentum before = momentum after", "momentum before = momentum after"),
    ("230 x 96/1840 = 12 V then times root 2", "230 × 96/1840 = 12 V ; 12 V × √2"),
    ("heat to freeze it = 217 kJ", "heat to freeze = 217 kJ"),
    ("energy in = 12 x 3 = 36 J", "energy in = 12 × 3 = 36 J"),
    ("in = I V = 36 J", "in = IV = 36 J"),
    ("putting the numbers in = 3 x 4", "= 3 × 4"),
    ("found from F = ma", "F = ma"),
    ("brightness x distance squared is constant", "brightness × distance² = constant"),
    ("volts on Y = 3", "volts on Y = 3", "names"),
    ("voltage across R2 = 4 V", "V = 4 V", "names"),
    ("F = w sin x - R", "F = w sin x − R"),
    ("R = ρA/L ... oh wait", "R = ρA/L"),
    ("v = u + at? so v = 3", "v = u + at ; v = 3"),
    ("m = 1.234,5 kg", "m = 1234.5 kg"),
    ("momentum is shared by 2080 kg", "2080 kg"),
    ("v^2 = initial speed squared + 2 x acceleration", "v² = v² + 2a", "names"),
    ("n=3 lambda=656nm 300 per mm", "n = 3 ; λ = 656 nm ; 300/mm"),
    ("t = 3 min 54 s", "t = 3 min + 54 s"),
    ("E = 1/2 m v 2", "E = (1/2)mv²", "motion"),
    ("v 2 = u 2 + 2 a s", "v² = u² + 2as", "motion"),
    # remarks after a value
    ("d = 22862 m thats deep lol", "d = 22862 m"),
    ("g = 8.3 N/kg , this was to show", "g = 8.3 N kg⁻¹"),
    ("v = 3 m/s as required", "v = 3 m s⁻¹"),
    ("E = 5 J which is about right i think", "E = 5 J"),
    ("a = 2 QED", "a = 2"),
    ("p=13200 pa ish", "p = 13200 Pa"),
    ("x = 3.2 m (3sf)", "x = 3.2 m"),
    ("F = 12 N hope this is right", "F = 12 N"),
    # what gives what
    ("n = 3 gives sin θ = 0.59", "n = 3 ; sin θ = 0.59"),
    ("V = IR gives V/R = I", "V = IR ; V/R = I"),
    ("0.5 x 3 gives 1.5", "0.5 × 3 = 1.5"),
    ("F is m times a which is 16.5 times 9.81 = 161.9 newtons", "F = ma = 16.5 × 9.81 = 161.9 N"),
    ("F = m a gives mass = force divided by acceleration = 3", "F = ma ; m = F/a = 3", "names"),
    # letters go on after a power; they are no unit
    ("T^2 = 4 pi^2 l/g", "T² = 4π²l/g"),
    ("P = I^2 R", "P = I²R"),
    ("A = 0.07^2 m^2", "A = 0.07² m²"),
)

# responses without superscripts: the lines before, the line, a reading among its first statement's
LOST = (
    (["Ek = 1/2mv2"], "ratio = 212/142 = 2.25", "ratio = 21²/14² = 2.25"),
    (["v = 3.0 x 10-3"], "k = 4 x 9.87 x 380/0.542", "k = 4 × 9.87 × 380/0.54²"),
    (["I = 4.6 mWm-2"], "I = 5635/1202 = 0.391", "I = 5635/120² = 0.391"),
    (["C = 470 x 10-6"], "V = 16e-25/15.51 = 3.19", "V = 16 exp(−25/15.51) = 3.19"),
    (["h = 6.63 x 10-34"], "E = 3 x 108 x 2", "E = (3 × 10⁸) × 2"),
)
# and responses that have them, where the figures are what they seem
KEPT = (
    (["Ek = ½mv²"], "ratio = 212/142 = 1.49", "ratio = 21²/14² = 1.49"),
    (["Ek = 1/2mv^2"], "I = 5635/1202 = 4.69", "I = 5635/120² = 4.69"),
    (["Ek = 1/2mv2"], "p = 1.32 Pa", "p = 1.3² Pa"),
)

# what is crossed out, and what is not
CROSSED_OUT = (
    ("x = 3 scratch it", True),
    ("x = 3 - cross that out", True),
    ("x = 3, rub it out", True),
    ("x = 3 scrap", True),
    ("ignore friction so F = 3", False),
    ("cancel m so v = 3", False),
    ("delete the masses: v = 3", False),
)

AMONG = (
    # lost superscripts and brackets, all over the line
    (
        "r = mv/Bq = 1.67x10-27x2.4x106/0.85x1.6x10-19 = 0.0295m",
        "r = mv/(Bq) = (1.67 × 10⁻²⁷) × (2.4 × 10⁶)/(0.85 × (1.6 × 10⁻¹⁹)) = 0.0295 m",
        "",
    ),
    ("a = v²-u²/2s = 0.64-12.96/108 = -0.114", "a = (v² − u²)/(2s) = (0.64 − 12.96)/108 = −0.114", "motion"),
    ("E = 6.63x10-34x3x108/5x10-7", "E = (6.63 × 10⁻³⁴) × (3 × 10⁸)/(5 × 10⁻⁷)", ""),
    ("g = 6.67x10-11x5.97x1024/(6.92x106)2", "g = (6.67 × 10⁻¹¹) × (5.97 × 10²⁴)/(6.92 × 10⁶)²", ""),
    ("E1r12 = E2r22", "E₁r₁² = E₂r₂²", ""),
    ("m1v12 = m2v22", "m₁v₁² = m₂v₂²", ""),
    ("v = 3x106ms-1", "v = 3 × 10⁶ m s⁻¹", ""),
    ("a = (v2-u2)/2s", "a = (v² − u²)/(2s)", "motion"),
    ("T = 2p(m/k)1/2", "T = 2π(m/k)^(½)", ""),
    ("R = (1/9 + 1/15)-1 = 5.6", "R = (1/9 + 1/15)⁻¹ = 5.6", "circuit"),
    ("θ2 = 3", "θ² = 3", "refraction"),
    ("T2 = 4p2m/k", "T² = 4π²m/k", ""),
    ("V = I x 5R", "V = I × 5 Ω", "circuit"),
    ("12.0 = 3.0 A + 6.0(A + B)", "12.0 = 3.0A + 6.0(A + B)", ""),
    # a charge, or a power of e
    ("W = 2e-V", "W = 2e − V", "charge"),
    ("I = V/(Rp+R)", "I = V/(Rₚ + R)", "circuit"),
)

# whole responses: typed lines, first readings of each line
WHOLE = (
    # a share of "this" is a share of the value just found, on the line or on the line before it
    (["P = 250 W", "18% of this = 45 W"], ["P = 250 W", "18 % × 250 W = 45 W"]),
    (["E = 1.5x10^3 J", "useful energy = 40 percent of it = 600 J"], ["E = 1.5 × 10³ J", "useful energy = 40 % × 1.5 × 10³ J = 600 J"]),
    (["m = 8 x 0.5 = 4 kg, and 3/4 of that is 3 kg"], ["m = 8 × 0.5 = 4 kg ; (3/4) × 4 kg = 3 kg"]),
    (["F = 90 N", "half of it = 45 N"], ["F = 90 N", "½ × 90 N = 45 N"]),
    (["F = 90 N", "half of it is lost"], ["F = 90 N", ""]),
    # a sign at the beginning goes on from the value before
    (["6.60 ÷ 9.81 = 0.673, × 2 = 1.35"], ["6.60/9.81 = 0.673 ; 0.673 × 2 = 1.35"]),
    (["t = 0.67 s, times 2 = 1.34 s"], ["t = 0.67 s ; 0.67 s × 2 = 1.34 s"]),
    (["R = 0.178 then + 0.35 = 0.528"], ["R = 0.178 ; 0.178 + 0.35 = 0.528"]),
    (["1475 x 31 = 45725", "/2 = 22862"], ["1475 × 31 = 45725", "45725/2 = 22862"]),
    (["R = 5.63 ohms", "+ 0.35 = 5.98 ohms"], ["R = 5.63 Ω", "5.63 Ω + 0.35 = 5.98 Ω"]),
    (["t = 0.67 s", "so top", "x 2 = 1.34 s"], ["t = 0.67 s", "", "0.67 s × 2 = 1.34 s"]),
    (["F = ma", "× 2 = 3"], ["F = ma", "2 = 3"]),
    # dashes before every line are no minus signs
    (["- m = 2.0 kg", "- 0.8 squared = 0.64", "- = 9.81 x 2.0"], ["m = 2.0 kg", "0.8² = 0.64", "= 9.81 × 2.0"]),
    (["F = ma", "- m = 2.0 kg", "- 0.8 squared = 0.64"], ["F = ma", "m = 2.0 kg", "0.8² = 0.64"]),
    (["v = 3", "- 0.8 = -0.8"], ["v = 3", "−0.8 = −0.8"]),
)

NEVER = (
    ("42000 x 0.114", "42000x × 0.114", "motion"),
    ("3x2 = 6", "3x₂ = 6", "motion"),
    ("s = 2.0 mm", "s = 2.0mₘ", "motion"),
    ("A = pi r^2", "A = pᵢr²", "motion"),
    ("nλ = d sin theta", "nλ = d sin(theta)", "one angle"),
    ("v = 2 x a", "v = 2xa", "motion"),
)


@pytest.mark.parametrize("row", FIRST, ids=lambda row: row[0])
def test_the_first_reading_is_what_a_teacher_sees(row: tuple[str, ...]) -> None:
    typed, expected, *table = row
    assert first_readings(typed, *table) == expected
    assert not read(typed, *table).unread


@pytest.mark.parametrize(("before", "typed", "meant"), LOST, ids=[row[1] for row in LOST])
def test_lost_superscripts_of_the_response(before: list[str], typed: str, meant: str) -> None:
    line = read_lines([*before, typed], TABLES[""])[-1]
    assert meant in [shown(r) for r in line.statements[0].readings]


@pytest.mark.parametrize(("before", "typed", "meant"), KEPT, ids=[row[1] for row in KEPT])
def test_superscripts_that_are_there(before: list[str], typed: str, meant: str) -> None:
    line = read_lines([*before, typed], TABLES[""])[-1]
    assert meant not in [shown(r) for r in line.statements[0].readings]


@pytest.mark.parametrize("row", WORDS, ids=lambda row: row[0])
def test_words_and_notation_together(row: tuple[str, ...]) -> None:
    typed, expected, *table = row
    assert first_readings(typed, *table) == expected
    assert not read(typed, *table).unread


@pytest.mark.parametrize(("typed", "withdrawn"), CROSSED_OUT, ids=[row[0] for row in CROSSED_OUT])
def test_crossing_out_has_an_object_or_stands_alone(typed: str, withdrawn: bool) -> None:
    assert [s.withdrawn for s in read(typed).statements] == [withdrawn]


@pytest.mark.parametrize(("typed", "meant", "table"), AMONG, ids=[row[0] for row in AMONG])
def test_the_meaning_is_among_the_readings(typed: str, meant: str, table: str) -> None:
    found = all_readings(typed, table)
    assert meant in found
    assert len(found) <= 16


@pytest.mark.parametrize(("lines", "expected"), WHOLE, ids=[row[0][0] for row in WHOLE])
def test_lines_are_read_with_those_around_them(lines: list[str], expected: list[str]) -> None:
    found = [" ; ".join(shown(s.readings[0]) for s in line.statements) for line in read_lines(lines, TABLES[""])]
    assert found == expected


def test_a_mended_slip_is_said() -> None:
    line = read("p = 13200 pascles")
    reading = line.statements[0].readings[0]
    assert [(a.code, a.text) for a in reading.assumptions] == [("unit-spelling", "“pascles” is taken for pascals")]
    assert reading.assumptions[0].at is not None
    assert line.text[slice(*reading.assumptions[0].at)] == "pascles"


def test_what_goes_on_from_a_value_keeps_its_places() -> None:
    line = read("6.60 ÷ 9.81 = 0.673, × 2 = 1.35")
    second = line.statements[1]
    product = second.readings[0].sides[0]
    assert isinstance(product, Product)
    assert [line.text[slice(*f.at)] for f in product.factors if f.at is not None] == ["0.673", "2"]
    assert second.text == "2 = 1.35"


@pytest.mark.parametrize(("typed", "meant", "table"), NEVER, ids=[row[0] for row in NEVER])
def test_no_reading_means_what_nobody_does(typed: str, meant: str, table: str) -> None:
    assert meant not in all_readings(typed, table)
