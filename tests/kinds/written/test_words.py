"""rubrics/words.toml holds together: no word in two tables that exclude each other, terms that collide are told apart."""

import tomllib
from itertools import combinations

import pytest

from marker.kinds.written.faults import texts
from marker.kinds.written.lexicon import concept_of, lexicon, phrase
from marker.kinds.written.prose import read
from marker.kinds.written.spelling import distance, slips_allowed
from marker.kinds.written.stem import stem
from marker.kinds.written.vocabulary import vocabulary
from marker.resources import rubrics

DATA = tomllib.loads((rubrics() / "words.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("group", DATA["collision"]["sets"], ids=" ".join)
def test_colliding_terms_are_different_words(group: list[str]) -> None:
    assert len({stem(w) for w in group}) == len(group)


CLOSE = (("reflect", "refract", "diffract"), ("fission", "fusion"), ("absorb", "adsorb"), ("proton", "photon"), ("charge", "change"))


@pytest.mark.parametrize("pair", [p for group in CLOSE for p in combinations(group, 2)], ids=" ".join)
def test_terms_within_reach_of_one_slip_are_listed_as_colliding(pair: tuple[str, str]) -> None:
    """AQA-P and the conventions file 1.3: reflect, refract, diffract; fission, fusion."""
    assert any(set(map(stem, pair)) <= set(group) for group in lexicon().collisions)


def test_no_change_is_both_up_and_down() -> None:
    tables = {name: {phrase(t) for t in DATA["change"][name]} for name in ("up", "down", "steady", "twice", "half")}
    for one, other in combinations(tables, 2):
        assert not tables[one] & tables[other], (one, other)


def test_an_opposite_is_not_its_own_denial() -> None:
    for pair in DATA["opposite"]:
        assert not {phrase(t) for t in pair["is"]} & {phrase(t) for t in pair["not"]}, pair


def test_contraries_go_both_ways() -> None:
    table = lexicon().contraries
    assert all(one in table[other] for one, others in table.items() for other in others)


def test_no_synonym_set_holds_two_contraries() -> None:
    known = lexicon()
    for group in DATA["contrary"]["sets"]:
        names = [concept_of(phrase(t), known.meanings) for t in group]
        assert len(set(names)) == len(names), group


@pytest.mark.parametrize("name", DATA["same"])
def test_every_synonym_is_read_as_its_set_or_as_an_earlier_table_says(name: str) -> None:
    plain = vocabulary()
    for text in DATA["same"][name]:
        assert [i for i in read((text,), plain).mentions()], text


def test_known_words_of_six_letters_and_more_are_not_mended_into_each_other() -> None:
    """A word of the lists stands as it is, however near another word is."""
    plain = vocabulary()
    near = [
        (a, b) for a, b in combinations(sorted(w for w in plain.terms if len(w) > 6), 2) if distance(a, b, 1) <= 1 <= slips_allowed(len(a))
    ]
    assert near, "there are such pairs, or this test shows nothing"
    for a, b in near:
        first, second = (tuple(read((w,), plain).mentions()) for w in (a, b))
        assert not any(i.mended for i in (*first, *second))


def test_fault_texts_fill_their_places() -> None:
    assert len(texts()) >= 5
    for entry in texts().values():
        for text in (entry["teacher"], entry["student"]):
            assert "{" not in text.format_map({"said": "x", "wanted": "y"})
