"""The rulings a paper most often differs in, as sentences to compare with its own instructions."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache

from marker.resources import rubrics
from marker.scheme.convention import Convention
from marker.scheme.show.rulings import in_words

FILE = "ruling_sentences.toml"


@lru_cache(maxsize=1)
def sentences() -> Mapping[str, Mapping[str, str]]:
    """Ruling -> option in words -> the sentence. From rubrics/ruling_sentences.toml."""
    return tomllib.loads((rubrics() / FILE).read_text(encoding="utf-8"))


def rulings_in_sentences(convention: Convention) -> tuple[tuple[str, str], ...]:
    """(ruling, what it says under this convention), in the order of the file; the figures an answer may have come last."""
    said = [(name, options[in_words(getattr(convention, name))]) for name, options in sentences().items()]
    return (*said, ("significant_figures", _figures(convention)))


def _figures(convention: Convention) -> str:
    window = convention.significant_figures
    if window.scope == "never":
        return "Figures of an answer are not judged."
    against = "the least precise datum has" if window.reference == "least datum" else f"{window.fixed} figures"
    more = "any number more" if window.over is None else f"up to {window.over} more"
    return f"An answer may have as many figures as {against}, {more} or {window.under} fewer."
