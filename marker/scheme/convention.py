"""A convention: the rulings by which a department marks, all of them data.

Each field is one ruling with a documented default (the positive three-mark practice); a TOML file in
rubrics/conventions/, a paper's [paper.rulings] or a part's rulings replaces what it names. A rule of
marking reads `convention.unit_fault`; it never asks which board this is.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

Scope = Literal["part", "question", "paper", "never"]


class FiguresWindow(BaseModel):
    """Significant figures a final answer may have, against the least precise datum (or a fixed number).

    under  how many fewer are allowed; over  how many more (None: any number); scope  how often a fault of figures costs.
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
    # 1 a right answer alone: all marks, none, or all marks unless the part says "show"
    answer_only: Literal["full", "none", "unless show"] = "unless show"
    # 2, 3 figures of the final answer
    significant_figures: FiguresWindow = Field(default_factory=FiguresWindow)
    # 4 what a missing or wrong unit costs: the answer mark, a unit mark of its own, or nothing
    unit_fault: Literal["answer mark", "separate mark", "none"] = "answer mark"
    # 5 how often the same unit fault costs
    unit_fault_scope: Scope = "part"
    # 6 wrong case in a unit symbol accepted where it is unambiguous
    case_tolerant_units: bool = True
    # 7 an unconverted unit or wrong power of ten costs the answer mark, counts as a wrong substitution, or costs its own mark once
    conversion_fault: Literal["answer mark", "substitution", "power of ten"] = "answer mark"
    power_of_ten_scope: Scope = "part"
    # 7a a decimal point lost in a datum that needs no conversion (75 for 7.5): a copying slip, or treated like a conversion
    digit_place: Literal["copying", "conversion"] = "copying"
    # 8 an arithmetic slip costs the answer mark where it happens; later work on it is followed or not
    arithmetic_slip: Literal["answer mark, followed", "answer mark, stop"] = "answer mark, followed"
    # 9 a datum copied wrongly: stops after the relationship, or costs the substitution and is followed, or counts as arithmetic
    transcription_slip: Literal["stop", "substitution mark, followed", "answer mark"] = "stop"
    # 10 a right number from wrong working
    right_from_wrong: Literal["nothing", "full", "refer"] = "nothing"
    # 11 own wrong values: followed within the part, across parts; limits
    follow_within_part: bool = True
    follow_across_parts: bool = True
    follow_unless_absurd: bool = False
    follow_unless_easier: bool = False
    # 12 two different final answers
    two_answers: Literal["zero", "lowest", "first", "best", "last"] = "zero"
    # 13 crossed-out work
    crossed_out: Literal["if not replaced", "never", "best"] = "if not replaced"
    # 14 numbers in the right places imply the relationship
    implied_relationship: bool = True
    # 15 relationships listed with none chosen, or given as a triangle only
    unselected_list: bool = False
    # 16 values of g accepted, in N/kg; a value outside the list is a wrong substitution or costs the answer mark
    g_values: tuple[float, ...] = (9.8, 9.81)
    other_g: Literal["substitution", "answer mark", "accepted"] = "answer mark"
    # 17 a fraction, surd or recurring decimal as a final answer
    fraction_answer: bool = False
    recurring_answer: bool = False
    # 18 "show that": one figure more than given, the final line needed, working back from the value allowed
    show_extra_figure: bool = False
    show_final_line: bool = True
    show_reverse: bool = False
    # 19 half marks
    half_marks: bool = False
    # 20 marks accrue for what is shown, or slips are deducted from the full mark
    direction: Literal["positive", "negative"] = "positive"
    slip_deduction: float = 1.0
    blunder_deduction: float = 3.0
    # 21 how uncertainties combine
    uncertainty_rule: Literal["root sum of squares", "sum", "largest"] = "root sum of squares"
    # 22 a list of answers to a question that wants n: right and wrong cancel, the first n count, or the best count
    list_rule: Literal["wrong cancels right", "first", "best"] = "wrong cancels right"
    # the mark type of each kind of point: C seen or implied by the answer, M must be seen, A depends on M, B stands alone
    mark_types: dict[str, Literal["M", "A", "B", "C"]] = Field(
        default_factory=lambda: {"relationship": "C", "substitution": "C", "value": "C", "answer": "A"}
    )
    # further rulings the trade names
    rounding_tolerance: float = 0.005
    wrong_rounding: Literal["answer mark", "accepted"] = "answer mark"
    easier_method_flag: bool = True
    rearranged_symbols: Literal["stop", "answer mark"] = "stop"

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
