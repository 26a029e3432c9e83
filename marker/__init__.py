"""Marks typed answers and calculations in final-year school physics, and says why.

    from marker import load_scheme, mark_response
    paper = load_scheme("scheme.toml")
    result = mark_response(paper.part("2b"), ["I = P/V = 1800/230", "I = 7.8 A"])
    result.mark, [award.reason for award in result.awards]
"""

from marker.errors import MarkerError, OutputError, Problem, ResponsesError, SchemeError, WorkbookError
from marker.marking import Carried, mark_candidate, mark_class, mark_response
from marker.results import Award, FaultFound, LineReport, Outcome, OwnValue, PartResult, Possibility, Referral, as_record
from marker.scheme.convention import Convention
from marker.scheme.paper import Paper, build_paper, load_convention, load_scheme

__all__ = [
    "Award",
    "Carried",
    "Convention",
    "FaultFound",
    "LineReport",
    "MarkerError",
    "Outcome",
    "OutputError",
    "OwnValue",
    "Paper",
    "PartResult",
    "Possibility",
    "Problem",
    "Referral",
    "ResponsesError",
    "SchemeError",
    "WorkbookError",
    "as_record",
    "build_paper",
    "load_convention",
    "load_scheme",
    "mark_candidate",
    "mark_class",
    "mark_response",
]
