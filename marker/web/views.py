"""Pages from templates: every value escaped, the few pieces of MathML checked and written anew."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from marker.reporting.faults import fault_words
from marker.reporting.feedback.mathml import safe_mathml
from marker.reporting.feedback.wording import wording
from marker.reporting.paper import mark_text
from marker.web.storage.clock import local

FOLDER = Path(__file__).resolve().parent


@lru_cache(maxsize=1)
def environment() -> Environment:
    """The templates, with autoescape for all of them whatever their ending."""
    made = Environment(
        loader=FileSystemLoader(FOLDER / "templates"), autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    made.filters.update(
        mark=mark_text, local=local, mathml=mathml, fault_name=_fault_name, percent=percent, marks=marks_text, count=counted, raised=raised
    )
    made.globals["verdict_words"] = wording().verdict
    return made


def rendered(template: str, values: dict[str, Any]) -> str:
    return environment().get_template(template).render(values)


@lru_cache(maxsize=4096)
def mathml(text: str) -> Markup:
    """Safe MathML, written anew from a list of elements and attributes; "" where there is none."""
    return Markup(safe_mathml(text))


def _fault_name(code: str) -> str:
    return fault_words(code).name


def raised(text: str) -> str:
    """Powers written raised: m^3 as m³, 10^-6 as 10⁻⁶."""
    return re.sub(r"\^([-−]?\d{1,3})(?![\d.])", lambda m: m.group(1).translate(_RAISED), text)


_RAISED = str.maketrans("0123456789-−", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁻")


def percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def marks_text(mark: float) -> str:
    """ "1 mark", "2 marks", "½ mark"."""
    return "½ mark" if mark == 0.5 else f"{mark_text(mark)} mark{'' if mark == 1 else 's'}"


def counted(number: int, one: str, several: str = "") -> str:
    """ "1 response", "12 responses"."""
    return f"{number:,} {one if number == 1 else several or one + 's'}"
