"""The tables of the conventions file restated: the marks and the source of each cell of 1.3 and 2.4, and the 22 switches of 1.5.

Sources are published keys, or what the file says where there is none: from memory, not certain ([M?]), common practice ([C]).
test_tables_of_the_file compares every cell with the file, and with the rows that are marked.
"""

from __future__ import annotations

from collections.abc import Mapping

ISSUE_CELLS: Mapping[str, tuple[tuple[float, ...], str]] = {
    "marking direction": ((), "H2013, H2017, N5-2019"),
    "marks recorded on script": ((), "H2013"),
    "half marks": ((), "H2013"),
    "no working, right value and unit": ((3,), "AH2022"),
    "no working, wrong": ((0,), "from memory"),
    "no working, right value, no or wrong unit": ((2,), "from memory"),
    "relationship implied by correct substitution": ((), "US-N5"),
    "relationship stated then not used, or several listed": ((0,), "from memory"),
    'relationship given only as a "triangle"': ((0,), "from memory"),
    "right relationship and substitution, wrong arithmetic": ((2,), "US-N5, from memory"),
    "wrong substitution": ((1,), "AH2018"),
    "wrong relationship": ((0,), "from memory"),
    "wrong physics leading to right number": ((0, 1), "H2013, from memory"),
    "rearranged symbols wrongly": ((1,), "from memory"),
    "rearranged numbers wrongly": ((2,), "from memory"),
    "squared term: square written": ((2,), "from memory"),
    "squared term: square absent": ((1,), "from memory"),
    "unit missing": ((2,), "from memory"),
    "unit wrong": ((2,), "from memory"),
    "same unit fault again": ((), "not certain"),
    "case of unit symbol": ((), "from memory"),
    "equivalent unit": ((), "not certain"),
    "unit on intermediate lines": ((), "not certain"),
    "prefix or conversion missed": ((2,), "not certain"),
    "significant figures": ((2,), "LITH, from memory"),
    "– example": ((), "from memory"),
    "– recurring-dot or ellipsis": ((2,), "LITH, US-N5, from memory"),
    "rounding wrong": ((2,), "from memory"),
    "rounding in intermediate lines": ((2, 3), "not certain"),
    "scientific notation": ((), "not certain"),
    "fraction as final answer": ((2,), "OCR15, from memory"),
    "wrong value from the data sheet": ((1,), "from memory"),
    "value of g": ((), "not certain"),
    "carry-forward across parts": ((3,), "AH2022, N5-2019"),
    "carry-forward within one part": ((), "not certain"),
    'carry-forward into a "show that"': ((), "common practice"),
    "non-standard symbols": ((), "from memory"),
    '"show that"': ((), "AH2022, from memory"),
    '"must justify"': ((), "from memory"),
    "diagram or sketch as answer": ((), "AH2022, from memory"),
    "surplus working or information": ((), "US-N5"),
    "correct answer then contradicted": ((), "from memory"),
    "two answers": ((0,), "from memory"),
    "crossed out": ((), "from memory"),
    "spelling": ((), "from memory"),
    "numerical gradient": ((), "from memory"),
    "follow-on in 4- and 5-mark chains": ((), "not certain"),
    "command words": ((), "LITH, from memory"),
}
"""1.3: marks out of three (both ends of a range; none where the file names none) and sources."""

COSTS: Mapping[str, tuple[str | None, ...]] = {
    "arithmetic": ("OCR19", "AQA-P", "from memory", "common practice", "IB03", "from memory", "AP06, AP12", "IE11, IE14, from memory"),
    "power of ten / prefix": (
        "OCR15MS, from memory",
        "not certain",
        "EDXG, from memory",
        "from memory",
        "from memory",
        "not certain",
        None,
        None,
    ),
    "transcription": ("OCR16, from memory", "AQA-P", None, None, None, "AH2018", None, ""),
    "rounding": ("OCR14, OCR17", None, "from memory", "from memory", None, "from memory", "AP06", "EDXG"),
    "too few s.f.": ("OCR18", "from memory", "EDX10, from memory", "from memory", "IB03", "LITH", "AP06", "BPHO"),
    "too many s.f.": ("OCR15, from memory", "from memory", "EDXG", "from memory", "", "LITH", "AP06", None),
    "unit missing/wrong": ("from memory", "from memory", "EDX10", "from memory", "IB02, IB03", "from memory", "AP09", "BPHO"),
    "wrong physics, right number": ("OCR15MS, from memory", "from memory", None, "from memory", None, "AH2018", None, None),
    "contradiction": ("OCR19", "AQA-P", None, None, None, "from memory", None, "CCEA"),
    "answer as surd / fraction": ("OCR15", "AQA-P", None, None, None, "from memory", None, ""),
    "spelling": (None, "AQA-P", None, None, "IB02, IB03", "from memory", None, None),
    "symbols: g": (None, None, "from memory", "from memory", None, None, "AP06", None),
    "answer only": ("OCR18", "AQA-P, from memory", "EDXG, from memory", "from memory", "from memory", "AH2022", "APW", None),
    "show-that": ("OCRB", "from memory", "from memory", "from memory", None, "from memory", "AP06", None),
    "two solutions offered": (None, "from memory", "EDX11", "from memory", "IBS", "from memory", None, "CCEA, IE14"),
    "ecf limits": ("OCR19", "AQA-P", None, "from memory", "IB03", "", "AP06, AP12", "BPHO"),
    "whole/half marks": ("", "", "", "CIE22", "IB16", "H2013", "", None),
}
"""2.4: the sources of each cell, by authority; None for an empty cell, "" for one that names no source."""

SWITCHES: tuple[tuple[str, Mapping[str, tuple[tuple[str, object], ...]]], ...] = (
    (
        "answer-only credit",
        {"full": (("answer_only", "full"),), "none": (("answer_only", "none"),), 'only if not "show"': (("answer_only", "unless show"),)},
    ),
    (
        "sf window",
        {
            "low": (("significant_figures.under", ...),),
            "high": (("significant_figures.over", ...),),
            "reference = least datum": (("significant_figures.reference", "least datum"),),
            "fixed": (("significant_figures.reference", "fixed"), ("significant_figures.fixed", ...)),
        },
    ),
    ("sf penalty scope", {o: (("significant_figures.scope", o),) for o in ("part", "question", "paper", "never")}),
    (
        "unit mark",
        {
            "shared with answer": (("unit_fault", "answer mark"),),
            "separate": (("unit_fault", "separate mark"),),
            "none": (("unit_fault", "none"),),
        },
    ),
    ("unit fault scope", {o: (("unit_fault_scope", o),) for o in ("part", "question", "paper")}),
    ("case-tolerant units", {"": (("case_tolerant_units", True), ("case_tolerant_units", False))}),
    (
        "conversion fault class",
        {
            "unit": (("conversion_fault", "answer mark"),),
            "substitution": (("conversion_fault", "substitution"),),
            'own "power of ten"': (("conversion_fault", "power of ten"),),
        },
    ),
    ("arithmetic slip cost and carry", {"": (("arithmetic_slip", "answer mark, followed"), ("arithmetic_slip", "answer mark, stop"))}),
    (
        "transcription slip cost and carry",
        {
            "": (
                ("transcription_slip", "stop"),
                ("transcription_slip", "substitution mark, followed"),
                ("transcription_slip", "answer mark"),
            )
        },
    ),
    (
        "right answer from wrong working",
        {"0": (("right_from_wrong", "nothing"),), "full": (("right_from_wrong", "full"),), "refer": (("right_from_wrong", "refer"),)},
    ),
    (
        "own-figure rule",
        {
            "within part": (
                ("follow_within_part", True),
                ("follow_within_part", False),
                ("follow_wrong_physics", True),
                ("follow_wrong_physics", False),
            ),
            "across parts": (("follow_across_parts", True), ("follow_across_parts", False)),
            '"unless absurd"': (("follow_unless_absurd", True), ("follow_unless_absurd", False)),
            '"unless easier"': (("follow_unless_easier", True), ("follow_unless_easier", False)),
        },
    ),
    (
        "two answers",
        {
            "lowest": (("two_answers", "lowest"),),
            "first": (("two_answers", "first"),),
            "best": (("two_answers", "best"),),
            "answer line": (("two_answers", "last"),),
            "zero": (("two_answers", "zero"),),
        },
    ),
    (
        "crossed-out work",
        {
            "mark if not replaced": (("crossed_out", "if not replaced"),),
            "never": (("crossed_out", "never"),),
            "best of": (("crossed_out", "best"),),
        },
    ),
    ("implied relationship counts", {"": (("implied_relationship", True), ("implied_relationship", False))}),
    ("triangle or unselected list counts", {"": (("unselected_list", True), ("unselected_list", False))}),
    ("g accepted set", {"": (("g_values", ...), ("other_g", "substitution"), ("other_g", "answer mark"), ("other_g", "accepted"))}),
    (
        "fraction/surd/recurring accepted",
        {"": (("fraction_answer", True), ("fraction_answer", False), ("recurring_answer", True), ("recurring_answer", False))},
    ),
    (
        "show-that needs extra figure / final line / reverse working allowed",
        {
            "": (
                ("show_extra_figure", True),
                ("show_extra_figure", False),
                ("show_final_line", True),
                ("show_final_line", False),
                ("show_reverse", True),
                ("show_reverse", False),
            )
        },
    ),
    ("half marks", {"": (("half_marks", True), ("half_marks", False))}),
    ("positive (accrue) v negative (deduct slips)", {"": (("direction", "positive"), ("direction", "negative"))}),
    (
        "uncertainty combination rule",
        {"": (("uncertainty_rule", "root sum of squares"), ("uncertainty_rule", "sum"), ("uncertainty_rule", "largest"))},
    ),
    ("list rule", {"": (("list_rule", "wrong cancels right"), ("list_rule", "first"), ("list_rule", "best"))}),
)
"""1.5: each switch with its options in the file, and the options of rulings that are them; "" where the file lists none.

An option ... stands for any number. An answer line is the last line of what is typed.
"""
