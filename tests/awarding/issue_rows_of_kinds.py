"""The rows of the conventions file's table 1.3 that rule on other kinds of part than a calculation. Invented parts."""

from __future__ import annotations

from tests.awarding.issue_rows import Row

FISSION = {
    "name": "a",
    "kind": "written",
    "marks": 1,
    "stem": "Name the process by which a large nucleus splits into two smaller ones.",
    "idea": [{"name": "fission", "says": ["fission", "nuclear fission"], "contradicts": ["fusion"]}],
}
CHOICE = {
    "name": "a",
    "kind": "written",
    "marks": 2,
    "stem": "Lamp A is in series with lamp B, which has the greater resistance. State and justify which lamp is brighter.",
    "idea": [
        {"name": "lamp", "says": ["lamp B is brighter", "B"], "contradicts": ["lamp A is brighter"], "depends": ["reason"]},
        {
            "name": "reason",
            "says": ["the current is the same and power is I²R", "it has the greater power as the current is the same"],
            "contradicts": ["lamp B has a greater current"],
        },
    ],
}
LINE = {
    "name": "a",
    "kind": "gradient",
    "marks": 2,
    "stem": "Find the gradient of the graph of resistance against length.",
    "table": {
        "x": {"name": "length", "symbol": "L", "unit": "m", "values": [0.2, 0.4, 0.6, 0.8, 1.0]},
        "y": {"name": "resistance", "symbol": "R", "unit": "Ω", "values": [0.49, 1.05, 1.46, 1.97, 2.45]},
    },
    "gradient_within": ["2.40 Ω/m", "2.50 Ω/m"],
    "points": ["method", "gradient"],
}
OTHER_PARTS = {"splitting": FISSION, "two lamps": CHOICE, "wire": LINE}
OTHER_KINDS = (
    Row("spelling", "one term it can be", "nucleur fissoin", 1, "from memory", "splitting"),
    Row("spelling", "between two terms", "nuclear fishion", 0, "from memory", "splitting", referred=True),
    Row("spelling", "right", "nuclear fission", 1, "from memory", "splitting"),
    Row("spelling", "the other term", "nuclear fusion", 0, "from memory", "splitting"),
    Row('"must justify"', "no justification", "lamp B is brighter", 0, "from memory", "two lamps"),
    Row(
        '"must justify"', "justified", "lamp B is brighter because the current is the same and power is I²R", 2, "from memory", "two lamps"
    ),
    Row('"must justify"', "wrong physics in it", "lamp B is brighter because lamp B has a greater current", 0, "from memory", "two lamps"),
    Row("numerical gradient", "two points of the line, wide apart", "(2.45 - 0.49)/(1.0 - 0.2) = 2.45 Ω/m", 2, "from memory", "wire"),
    Row("numerical gradient", "points close together", "(1.46 - 1.05)/(0.6 - 0.4) = 2.05 Ω/m", 0, "from memory", "wire"),
    Row("numerical gradient", "upside down", "(1.0 - 0.2)/(2.45 - 0.49) = 0.41", 0, "from memory", "wire"),
)
