"""Every option of a ruling that `marker scheme check` puts into a sentence has one. Source: the convention's own fields."""

from __future__ import annotations

import tomllib
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
    usual = {r.name: r for r in rulings_in_sentences(Convention())}
    other = {r.name: r for r in rulings_in_sentences(Convention(transcription_slip="substitution mark, followed"))}
    assert [n for n in usual if usual[n] != other[n]] == ["transcription_slip"]
    assert "followed" in other["transcription_slip"].says
    assert (usual["transcription_slip"].value, other["transcription_slip"].value) == ('"stop"', '"substitution mark, followed"')


def test_every_option_is_named_as_it_is_typed() -> None:
    """What stands beside a sentence can be put into a scheme: the value in force and the others are all the options, once each."""
    for said in rulings_in_sentences(Convention())[:-1]:
        typed = [tomllib.loads(f"x = {o}")["x"] for o in (said.value, *said.others)]
        assert typed[0] == getattr(Convention(), said.name)
        assert all(getattr(Convention.model_validate({said.name: o}), said.name) == o for o in typed) and len(set(typed)) == len(typed)
