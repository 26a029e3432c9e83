"""Units: the table held to pint, typed units in every style, and the writing rules of the SI Brochure as a table."""

import pint
import pytest

from marker.physics.units import base_units, parse_unit, unit_named

PINT: pint.UnitRegistry = pint.UnitRegistry()

# our symbol -> pint's expression, where the two differ; pint's default registry is the outside source of the scales
NAMES = {
    "°": "degree",
    "′": "arcminute",
    "″": "arcsecond",
    "Ω": "ohm",
    "°C": "kelvin",
    "°F": "delta_degree_Fahrenheit",
    "°R": "1.25 kelvin",
    "u": "dalton",
    "au": "astronomical_unit",
    "d": "day",
    "h": "hour",
    "y": "year",
    "min": "minute",
    "L": "litre",
    "l": "litre",
    "t": "metric_ton",
    "ha": "hectare",
    "D": "1/metre",
    "Å": "angstrom",
    "mmHg": "mmHg",
    "mm Hg": "mmHg",
    "cmHg": "10 * mmHg",
    "cm Hg": "10 * mmHg",
    "cal": "calorie",
    "kcal": "kilocalorie",
    "ly": "light_year",
    "pc": "parsec",
    "rem": "rem",
    "rev": "revolution",
    "rpm": "revolution/minute",
    "in": "inch",
    "ft": "foot",
    "yd": "yard",
    "mi": "mile",
    "mph": "mile/hour",
    "lb": "pound",
    "lbf": "pound_force",
    "oz": "ounce",
    "gal": "gallon",
    "hp": "horsepower",
    "Btu": "Btu_it",
    "%": "percent",
    "bar": "bar",
    "c": "speed_of_light",
    "rad": "radian",
    "sr": "steradian",
    "dyn": "dyne",
    "erg": "erg",
    "mcd": "millicandela",
    "ky": "kiloyear",
    "My": "megayear",
    "m″": "milliarcsecond",
    "kt": "1000 metric_ton",
}
WITHOUT = {"dB", "Np"}  # logarithmic: our table counts them as numbers
DIMENSIONS = ("[length]", "[mass]", "[time]", "[current]", "[temperature]", "[substance]", "[luminosity]")
SYMBOLS = [s for s, u in base_units().items() if s == u.name or s in NAMES]


def scale_by_pint(symbol: str) -> tuple[float, tuple[float, ...]]:
    text = NAMES.get(symbol, symbol)
    quantity = PINT.Quantity(text) if symbol in NAMES else PINT.Quantity(1, symbol)
    base = quantity.to_base_units()
    return float(base.magnitude), tuple(float(base.dimensionality.get(d, 0)) for d in DIMENSIONS)


@pytest.mark.parametrize("symbol", [s for s in SYMBOLS if s not in WITHOUT])
def test_scale_and_dimensions_are_those_of_pint(symbol: str) -> None:
    unit = base_units()[symbol]
    scale, dimensions = scale_by_pint(symbol)
    tolerance = 1e-6 if symbol.endswith(("u", "eV", "hp")) else 1e-9  # measured constants differ by edition
    assert unit.scale == pytest.approx(scale, rel=tolerance)
    assert unit.dimensions[:7] == dimensions


def test_many_units_were_compared() -> None:
    assert len(SYMBOLS) > 350


# typed, written in SI form, value of one in SI base units
STYLES = (
    ("N/kg", "N kg⁻¹", 1),
    ("N kg^-1", "N kg⁻¹", 1),
    ("Nkg-1", "N kg⁻¹", 1),
    ("N.kg⁻¹", "N kg⁻¹", 1),
    ("N·kg^-1", "N kg⁻¹", 1),
    ("kg m/s²", "kg m s⁻²", 1),
    ("kgms-2", "kg m s⁻²", 1),
    ("m/s/s", "m s⁻²", 1),
    ("m/s^2", "m s⁻²", 1),
    ("m s-2", "m s⁻²", 1),
    ("ms⁻²", "m s⁻²", 1),
    ("J/mol·K", "J mol⁻¹ K⁻¹", 1),
    ("J/(mol·K)", "J mol⁻¹ K⁻¹", 1),
    ("J/mol/K", "J mol⁻¹ K⁻¹", 1),
    ("JK-1mol-1", "J K⁻¹ mol⁻¹", 1),
    ("J/s·m·°C", "J s⁻¹ m⁻¹ °C⁻¹", 1),
    ("C^2/N·m^2", "C² N⁻¹ m⁻²", 1),
    ("N·m^2/C^2", "N m² C⁻²", 1),
    ("W/m^2 K", "W m⁻² K⁻¹", 1),
    ("metres per second", "m s⁻¹", 1),
    ("metres per second squared", "m s⁻²", 1),
    ("meters/second", "m s⁻¹", 1),
    ("m per s", "m s⁻¹", 1),
    ("N per mm", "N mm⁻¹", 1000),
    ("newtons per square metre", "N m⁻²", 1),
    ("joules per kilogram per kelvin", "J kg⁻¹ K⁻¹", 1),
    ("cubic metres", "m³", 1),
    ("cubic centimetres", "cm³", 1e-6),
    ("sq m", "m²", 1),
    ("kmh-1", "km h⁻¹", 1 / 3.6),
    ("km/h", "km h⁻¹", 1 / 3.6),
    ("kph", "km h⁻¹", 1 / 3.6),
    ("mph", "mph", 0.44704),
    ("cc", "cm³", 1e-6),
    ("litres", "L", 1e-3),
    ("ml", "mL", 1e-6),
    ("amps", "A", 1),
    ("milliamps", "mA", 1e-3),
    ("ohms", "Ω", 1),
    ("kohm", "kΩ", 1000),
    ("kilo-ohms", "kΩ", 1000),
    ("MΩ", "MΩ", 1e6),
    ("µF", "μF", 1e-6),
    ("μF", "μF", 1e-6),
    ("uF", "μF", 1e-6),
    ("microfarads", "μF", 1e-6),
    ("secs", "s", 1),
    ("hrs", "h", 3600),
    ("mins", "min", 60),
    ("kWh", "kW h", 3.6e6),
    ("kilowatt hours", "kW h", 3.6e6),
    ("Nm", "N m", 1),
    ("mN m", "mN m", 1e-3),
    ("°C", "°C", 1),
    ("degrees C", "°C", 1),
    ("deg", "°", 0.017453292519943295),
    ("rad s-1", "rad s⁻¹", 1),
    ("s^(-1)", "s⁻¹", 1),
    ("1/s", "s⁻¹", 1),
    ("per second", "s⁻¹", 1),
    ("m^(1/2)", "m⁰·⁵", 1),
    ("g/cm3", "g cm⁻³", 1000),
    ("gcm-3", "g cm⁻³", 1000),
    ("MeV/c^2", "MeV c⁻²", 1.602176634e-13 / 299792458**2),
    ("kg m^-3", "kg m⁻³", 1),
    ("V/A", "V A⁻¹", 1),
    ("A h", "A h", 3600),
    ("lb", "lb", 0.45359237),
    ("Gy", "Gy", 1),
    ("mSv", "mSv", 1e-3),
    ("decays/s", "decay s⁻¹", 1),
)


@pytest.mark.parametrize(("typed", "written", "scale"), STYLES, ids=[s[0] for s in STYLES])
def test_styles_of_writing(typed: str, written: str, scale: float) -> None:
    unit = parse_unit(typed)[0][0]
    assert unit.name == written
    assert unit.scale == pytest.approx(scale, rel=1e-9)


# SI Brochure, 9th edition, section 5, and NIST SP 811, as restated in the conventions file 3.1: what is typed, what it means, and
# the code of the remark ("" silent). An ambiguous one has a second meaning.
BROCHURE = (
    ("m s⁻¹", ["m s⁻¹"], "", "product by a space"),
    ("N·m", ["N m"], "", "product by a half-high dot"),
    ("m/s", ["m s⁻¹"], "", "division by one solidus"),
    ("J/(kg·K)", ["J kg⁻¹ K⁻¹"], "", "brackets after the solidus"),
    ("m/s/s", ["m s⁻²"], "unit-two-solidi", "one solidus only"),
    ("ms⁻¹", ["m s⁻¹", "ms⁻¹"], "unit-ambiguous", "never by nothing: metre per second or per millisecond"),
    ("Nm", ["N m"], "unit-run-together", "never by nothing"),
    ("kWh", ["kW h"], "unit-run-together", "never by nothing"),
    ("m s-1", ["m s⁻¹"], "unit-lost-superscript", "powers raised"),
    ("cm3", ["cm³"], "unit-lost-superscript", "powers raised"),
    ("sec", ["s"], "unit-spelling", "sec is not a symbol"),
    ("amps", ["A"], "unit-spelling", "amps is not a symbol"),
    ("hrs", ["h"], "unit-spelling", "no plural"),
    ("kgs", ["kg"], "unit-spelling", "symbols have no plural"),
    ("cc", ["cm³"], "unit-spelling", "cc is not a symbol"),
    ("mps", ["m s⁻¹"], "unit-spelling", "mps is not a symbol"),
    ("Kg", ["kg"], "unit-spelling", "k is small for kilo"),
    ("hz", ["Hz"], "unit-spelling", "capital from a name"),
    ("KHZ", ["kHz"], "unit-case", "wrong case where only one unit is meant"),
    ("L", ["L"], "", "litre: l or L"),
    ("l", ["L"], "", "litre: l or L"),
    ("metre/s", ["m s⁻¹"], "", "name and symbol mixed: accepted"),
    ("metres per second", ["m s⁻¹"], "", "names"),
    ("R", ["Ω"], "unit-spelling", "R for ohm"),
    ("uA", ["μA"], "", "u for micro: accepted"),
)


@pytest.mark.parametrize(("typed", "meanings", "code", "rule"), BROCHURE, ids=[b[0] for b in BROCHURE])
def test_rules_of_the_si_brochure(typed: str, meanings: list[str], code: str, rule: str) -> None:
    found = parse_unit(typed)
    assert [u.name for u, _ in found][: len(meanings)] == meanings, rule
    codes = [n.code for n in found[0][1]]
    assert (codes == []) if not code else (code in codes), rule


@pytest.mark.parametrize("typed", ["mμF", "5 k", "k", "xyz", "", "kkg", "m²²²", "mW Mw nonsense", "()", "/", "m" * 200])
def test_what_is_no_unit(typed: str) -> None:
    assert parse_unit(typed) == ()


def test_small_and_capital_m_k_s_are_not_exchanged() -> None:
    assert parse_unit("mw") == () or parse_unit("mw")[0][0].name != "MW"
    assert unit_named("mW").scale == 1e-3
    assert unit_named("MW").scale == 1e6
    assert unit_named("s").dimensions != unit_named("S").dimensions


def test_an_unknown_unit_is_refused_with_the_mend() -> None:
    with pytest.raises(ValueError, match=r"“furlongs” is not a unit\. Write it in SI symbols"):
        unit_named("furlongs")


def test_celsius_and_fahrenheit_have_an_offset_alone_and_none_in_a_compound() -> None:
    # fixed points: 0 °C = 273.15 K by definition; 212 °F = 373.15 K
    celsius, fahrenheit = unit_named("°C"), unit_named("°F")
    assert (0 + celsius.offset) * celsius.scale == pytest.approx(273.15)
    assert (212 + fahrenheit.offset) * fahrenheit.scale == pytest.approx(373.15)
    assert unit_named("J/kg°C").offset == 0
