"""The rulings a paper most often differs in, as sentences to compare with its own instructions."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache

from marker.resources import rubrics
from marker.scheme.checking.model import RulingSaid
from marker.scheme.convention import Convention
from marker.scheme.rulings import shown
from marker.scheme.show.rulings import in_words

FILE = "ruling_sentences.toml"


@lru_cache(maxsize=1)
def sentences() -> Mapping[str, Mapping[str, str]]:
    """Ruling -> option in words -> the sentence. From rubrics/ruling_sentences.toml."""
    return tomllib.loads((rubrics() / FILE).read_text(encoding="utf-8"))


def rulings_in_sentences(convention: Convention) -> tuple[RulingSaid, ...]:
    """What each ruling says under this convention, in the order of the file; the figures an answer may have come last."""
    said = [_said(convention, name, options) for name, options in sentences().items()]
    figures = RulingSaid(name="significant_figures", says=_figures(convention), value=shown(convention.significant_figures))
    return (*said, figures)


def _said(convention: Convention, name: str, options: Mapping[str, str]) -> RulingSaid:
    value = getattr(convention, name)
    as_typed = {in_words(option): shown(option) for option in (True, False)} if isinstance(value, bool) else {}
    others = tuple(as_typed.get(o, shown(o)) for o in options if o != in_words(value))
    return RulingSaid(name=name, says=options[in_words(value)], value=shown(value), others=others)


def _figures(convention: Convention) -> str:
    window = convention.significant_figures
    if window.scope == "never":
        return "Figures of an answer are not judged."
    against = "the least precise datum has" if window.reference == "least datum" else f"{window.fixed} figures"
    more = "any number more" if window.over is None else f"up to {window.over} more"
    return f"An answer may have as many figures as {against}, {more} or {window.under} fewer."
