"""A convention: the rulings by which a department marks, all of them data.

Each field is one ruling with its default (the positive three-mark practice), its meaning and the source of its
options; a TOML file in rubrics/conventions/, a paper's [paper.rulings] or a part's rulings replaces what it names.
A rule of marking reads `convention.unit_fault`; it never asks which board this is. Keys such as AH2018 are those of
the published sources listed in the conventions file; "common practice" has no source, "from memory" was not seen.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

Scope = Literal["part", "question", "paper", "never"]


def _ruling(default: Any, meaning: str, source: str) -> Any:
    """A ruling with what it means and where its options come from."""
    made = {"default_factory": default} if callable(default) else {"default": default}
    return Field(description=meaning, json_schema_extra={"source": source}, **made)


class FiguresWindow(BaseModel):
    """Significant figures a final answer may have.

    under  how many fewer are allowed; over  how many more (None: any number); reference  against the least precise datum
    or a fixed number; scope  how often a fault of figures costs ("part": once in a part; "never": not at all).
    Source: LITH (two more, one fewer); OCR18 (once in the paper); EDXG (too many never penalised); scopes from memory.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    under: int = 1
    over: int | None = 2
    reference: Literal["least datum", "fixed"] = "least datum"
    fixed: int = 3
    scope: Scope = "part"


class Convention(BaseModel):
    """The rulings in force for one part. Frozen; two equal conventions mark alike."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: str = "positive three-mark"
    source: str = ""

    answer_only: Literal["full", "none", "unless show"] = _ruling(
        "unless show",
        "1 What a right answer without working implies: full, all it rests on (in a 'show that' too, when it is given to more figures "
        "than the question shows); unless show, the same but nothing in a 'show that'; none, nothing, and no A mark with it.",
        "AH2022, N5-2019 (full unless working is demanded); APW (calculate expects working)",
    )
    significant_figures: FiguresWindow = _ruling(
        FiguresWindow,
        "2, 3 Figures a final answer may have, against the least precise datum or a fixed number, and how often a fault of them costs.",
        "LITH; OCR18 (once in the paper); BPHO (once in a question)",
    )
    unit_fault: Literal["answer mark", "separate mark", "none"] = _ruling(
        "answer mark",
        "4 What a missing or wrong unit costs: the answer mark it shares with the value; a unit mark of its own, beside the value's; "
        "none, nothing.",
        "BA7377, AH2018 row 10 (shared); AP09 (a point of its own); OCR (unit printed), from memory",
    )
    unit_fault_scope: Scope = _ruling(
        "part",
        "5 How often faults of units cost: once in a part, a question or the paper, or never.",
        "EDX10 (once in a question); IB02, IB03 (once in the paper); part: common practice",
    )
    earlier_unit: bool = _ruling(
        False,
        "5 A unit given with the same value a line or two earlier counts for a final answer written without one.",
        "BPHO",
    )
    case_tolerant_units: bool = _ruling(
        True,
        "6 Capital and small letters exchanged in a unit symbol are accepted where only one unit can be meant (hz, PA).",
        "EDX10 (case ignored); SP330 has m and M, k and K, s and S apart",
    )
    equivalent_units: bool = _ruling(
        True,
        "6 Another unit of the quantity stands for the unit asked for (J/s for W, N m⁻² for Pa); if not, only that unit and its prefixes.",
        "from memory (accepted); AQA from memory (strings of base units refused)",
    )
    conversion_fault: Literal["answer mark", "substitution", "power of ten"] = _ruling(
        "answer mark",
        "7 What a unit not converted or a wrong power of ten costs: the answer mark, each time; the substitution, as a wrong datum "
        "does; power of ten, a charge of its own, once in power_of_ten_scope: a point of kind 'power of ten' where the scheme has "
        "one, else the answer mark.",
        "EDX, SQA from memory (answer mark); OCR15MS (own annotation); CIE, IB from memory (once in a part)",
    )
    power_of_ten_scope: Scope = _ruling(
        "part",
        "7 How often a power-of-ten fault costs where it has a charge of its own.",
        "CIE from memory (once in a part)",
    )
    digit_place: Literal["copying", "conversion"] = _ruling(
        "copying",
        "7 A decimal point lost in a datum that needs no conversion (75 for 7.5): a datum copied wrongly, or a power-of-ten fault.",
        "AH2018 row 12 (wrong substitution); OCR15MS (power of ten)",
    )
    arithmetic_slip: Literal["answer mark, followed", "answer mark, stop"] = _ruling(
        "answer mark, followed",
        "8 An arithmetic slip costs the mark of the value it spoils; later answers of the part that rest on it are followed, or "
        "earn no answer mark (method stays open).",
        "US-N5, OCR19, IB03, IE11 (followed); CSM (no further A within the part)",
    )
    transcription_slip: Literal["stop", "substitution mark, followed", "answer mark"] = _ruling(
        "stop",
        "9 A datum copied wrongly: nothing after the relationship; or the substitution alone and the rest followed (a misread); or "
        "the answer mark, as an arithmetic slip does.",
        "AH2018 rows 11, 12 (stop); IBM2 (misread charged once, followed); AQA-P (as arithmetic)",
    )
    right_from_wrong: Literal["nothing", "full", "refer"] = _ruling(
        "nothing",
        "10 A right number at the end of wrong working: earns nothing; full, the working is not looked at; or a person decides.",
        "AH2018 rows 11, 12, OCR15MS (nothing); IBS (full)",
    )
    follow_within_part: bool = _ruling(
        True,
        "11 Own wrong values are followed from one thing found in a part to the next.",
        "OCR19, IB03",
    )
    follow_across_parts: bool = _ruling(
        True,
        "11 Own wrong values are followed from one part to a later one.",
        "AH2022, N5-2019, AP06",
    )
    follow_wrong_physics: bool = _ruling(
        False,
        "11 Within a part, an own value that came from a wrong relationship or datum is followed too.",
        "from memory (stop within the part); OCR19 (followed)",
    )
    follow_labelled: bool = _ruling(
        True,
        "11 Steps with labels of their own, (i) and (ii), count as parts: an own value of (i) is followed in (ii), whatever made it wrong.",
        "common practice",
    )
    follow_shown: bool = _ruling(
        True,
        "11 An own wrong value is followed in place of one that the question gave to be shown; if not, the value given is to be used.",
        "common practice",
    )
    follow_assumed: bool = _ruling(
        True,
        "11 Where the part before gave no value, one that the candidate states in its place ('assume Q = 50 C') is followed.",
        "common practice",
    )
    follow_unworked: bool = _ruling(
        True,
        "11 An answer that is right on an own wrong value is followed when it stands without working; if not, working must be there, "
        "but where the answer is all that a part has marks for.",
        "AH2022 (an answer alone earns all it rests on); CSM (working must be present, except where only an answer is asked for)",
    )
    follow_unless_absurd: bool = _ruling(
        False,
        "11 An own value, or an answer followed from one, outside the `sensible` range of the scheme is not followed.",
        "AP06, AP12 (should be seen as impossible); BPHO (until results become ridiculous)",
    )
    follow_unless_easier: bool = _ruling(
        False,
        "11 Where an own value makes the question easier (a term falls away, a factor becomes 1), the answer is not followed unless a "
        "person says so.",
        "CSM, SQAM",
    )
    two_answers: Literal["zero", "lowest", "first", "best", "last"] = _ruling(
        "zero",
        "12 Two different answers offered: none counts; the one that earns least, the first, the one that earns most, or the last counts.",
        "CCEA (none); SQAM (lowest); IBS (first); IE14 (best); last: common practice",
    )
    crossed_out: Literal["if not replaced", "never", "best"] = _ruling(
        "if not replaced",
        "13 Crossed-out work is marked when nothing replaces it; never; or when it earns more than what replaces it.",
        "EDX11 (if not replaced); IBS, CCEA (never); IE14 (best)",
    )
    implied_relationship: bool = _ruling(
        True,
        "14 Numbers in the right places show the relationship. If not, it is seen in symbols or implied by a right answer.",
        "US-N5",
    )
    unselected_list: bool = _ruling(
        False,
        "15 Relationships listed with none chosen, or given as a triangle only, show the relationship.",
        "from memory (they do not)",
    )
    g_values: tuple[float, ...] = _ruling(
        (9.8, 9.81),
        "16 Values of g accepted, in N/kg, where the paper's data sheet gives none; the last is the one answers are worked out with.",
        "AP06 (9.8 and 10 both fine); 9.81: from memory",
    )
    other_g: Literal["substitution", "answer mark", "accepted"] = _ruling(
        "answer mark",
        "16 Another usual value of g (9.8, 9.81 or 10): a wrong datum, the answer mark, or accepted.",
        "AP06 (accepted); others from memory",
    )
    fraction_answer: bool = _ruling(
        False,
        "17 A fraction or surd stands as a final answer.",
        "OCR15, AQA-P (refused); maths papers often accept it",
    )
    recurring_answer: bool = _ruling(
        False,
        "17 A recurring decimal or trailing dots stand as a final answer.",
        "LITH (told not to write them)",
    )
    show_extra_figure: bool = _ruling(
        False,
        "18 The result of a 'show that' must have one figure more than the value given.",
        "AQA, CIE from memory",
    )
    show_final_line: bool = _ruling(
        True,
        "18 A 'show that' must end with the stated result.",
        "AH2022 (principle)",
    )
    show_unit: bool = _ruling(
        False,
        "18 The result of a 'show that' must have its unit, where a missing or wrong unit costs the answer mark; if not, no unit is "
        "asked for in a 'show that'.",
        "AH2022 (principle: the stated value with its unit); EDX10 (unit faults not charged in a 'show that')",
    )
    show_reverse: bool = _ruling(
        False,
        "18 A 'show that' may be worked backwards, from the value given to a datum.",
        "OCRB (2006)",
    )
    derivation_gap: Literal["accepted", "refused", "refer"] = _ruling(
        "refer",
        "18 A step left out of a derivation in letters, where the target still follows: the step counts as made, it does not, or a "
        "person decides.",
        "common practice, no source",
    )
    half_marks: bool = _ruling(
        False,
        "19 Points may be worth half marks.",
        "H2013 (allowed until 2013); CIE22, IB16 (whole marks)",
    )
    direction: Literal["positive", "negative"] = _ruling(
        "positive",
        "20 Marks accrue for what is shown, or faults are deducted from the full mark (what is left out earns nothing either way).",
        "H2013, N5-2019 (positive); IE11, IE14 (negative)",
    )
    slip_deduction: float = _ruling(1.0, "20 Marks deducted for a slip of arithmetic, rounding, figures, units or conversion.", "IE14")
    blunder_deduction: float = _ruling(3.0, "20 Marks deducted for wrong physics or algebra.", "IE14")
    misread_deduction: float = _ruling(1.0, "20 Marks deducted for a datum copied wrongly.", "IE14, value from memory")
    uncertainty_rule: Literal["root sum of squares", "sum", "largest"] = _ruling(
        "root sum of squares",
        "21 How the uncertainties of data combine.",
        "GUM (root sum of squares); others from memory",
    )
    list_rule: Literal["wrong cancels right", "first", "best"] = _ruling(
        "wrong cancels right",
        "22 More answers than asked for: each wrong one cancels a right one, the first count, or the best count.",
        "CCEA, AQA from memory (cancels); CIE from memory (first)",
    )
    mark_types: dict[str, Literal["M", "dM", "A", "B", "C"]] = _ruling(
        lambda: {"relationship": "C", "substitution": "C", "value": "C", "answer": "A", "unit": "B", "power of ten": "B"},
        "The mark type of each kind of point: C seen, or implied by what it leads to; M must be seen; dM an M that needs the M before "
        "it; A depends on the M marks before it; B stands alone.",
        "CIE01, OCR18; dM: MSH, AQA-GM",
    )
    method_missing: Literal["accuracy lost", "accuracy open"] = _ruling(
        "accuracy lost",
        "Without its M marks an A is lost; or it stays open where the method is left out rather than wrong.",
        "CIE01, OCR18 (lost); IBM, CSM (open)",
    )
    later_work: Literal["counts", "ignored"] = _ruling(
        "counts",
        "The last value given is the answer; or work after a complete right answer is ignored.",
        "SCI, AQA06, OCRM (ignored); from memory (counts)",
    )
    rounding_tolerance: float = _ruling(
        0.005,
        "How far an answer may lie from the right value after rounding on the way, as a fraction of it.",
        "AP06 (differences from rounding get full credit); OCR14 (penalised); the figure is common practice",
    )
    wrong_rounding: Literal["answer mark", "accepted"] = _ruling(
        "answer mark",
        "An answer rounded wrongly (5.67 to 5.6) costs the answer mark, or is accepted within one unit of its last place.",
        "EDXG (refused); EDX from memory (accepted)",
    )
    rearranged_symbols: Literal["stop", "answer mark"] = _ruling(
        "stop",
        "A right relationship rearranged wrongly in symbols: nothing after it; or the answer mark, as when numbers are.",
        "from memory",
    )

    def with_rulings(self, rulings: dict[str, Any]) -> Convention:
        """This convention with some rulings replaced. Raises pydantic.ValidationError on an unknown ruling or value."""
        if not rulings:
            return self
        merged = self.model_dump()
        for key, value in rulings.items():
            if key in ("significant_figures", "mark_types") and isinstance(value, dict):
                merged[key] = {**merged[key], **value}
            else:
                merged[key] = value
        return Convention.model_validate(merged)
