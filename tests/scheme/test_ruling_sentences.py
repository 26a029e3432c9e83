"""Every option of a ruling that `marker scheme check` puts into a sentence has one. Source: the convention's own fields."""

from __future__ import annotations

from typing import get_args

import pytest

from marker.scheme.checking.rulings import rulings_in_sentences, sentences
from marker.scheme.convention import Convention


@pytest.mark.parametrize("name", sorted(sentences()))
def test_every_option_has_a_sentence(name: str) -> None:
    kind = Convention.model_fields[name].annotation
    options = {"yes", "no"} if kind is bool else set(get_args(kind))
    assert set(sentences()[name]) == options
    assert len(set(sentences()[name].values())) == len(options)


def test_a_replaced_ruling_says_what_it_now_does() -> None:
    usual = dict(rulings_in_sentences(Convention()))
    other = dict(rulings_in_sentences(Convention(transcription_slip="substitution mark, followed")))
    assert [n for n in usual if usual[n] != other[n]] == ["transcription_slip"]
    assert "followed" in other["transcription_slip"]
