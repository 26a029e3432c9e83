"""How words are understood: endings, spelling, denial, change, second thoughts, relations. Common practice, no source, unless said."""

import pytest

from marker.kinds.written.change import changes
from marker.kinds.written.evidence import signed
from marker.kinds.written.lexicon import lexicon
from marker.kinds.written.prose import read
from marker.kinds.written.relation import Link, Relation, relate
from marker.kinds.written.spelling import distance, mend
from marker.kinds.written.stem import stem
from marker.kinds.written.vocabulary import vocabulary

KNOWN = vocabulary(["the reading of a sensor, bulb A, terminal 1 and the force on a charge"], {"reading": ["output"], "mass": ["load"]})


def said(text: str) -> list[str]:
    return [signed(i) for i in read(tuple(text.split("\n")), KNOWN).mentions()]


@pytest.mark.parametrize(
    "forms",
    (
        "connect connects connected connecting connection connections",
        "increase increases increased increasing",
        "battery batteries",
        "proportion proportions",
        "separate separates separated separating",
        "equal equally equals",
        "stop stops stopped stopping",
        "reflect reflects reflected reflecting reflection",
        "particle particles",
    ),
)
def test_forms_of_a_word_share_a_stem(forms: str) -> None:
    assert len({stem(f) for f in forms.split()}) == 1


@pytest.mark.parametrize(
    "pair",
    (
        "fission fusion",
        "reflect refract",
        "direct direction",
        "motion motor",
        "position positive",
        "mass massive",
        "moment momentum",
        "charge change",
        "proton photon",
        "ion iron",
    ),
)
def test_different_words_keep_different_stems(pair: str) -> None:
    one, other = pair.split()
    assert stem(one) != stem(other)


@pytest.mark.parametrize(
    ("a", "b", "slips"),
    (("kitten", "sitting", 3), ("current", "curent", 1), ("force", "froce", 1), ("ca", "abc", 3), ("same", "same", 0)),
)
def test_slips_between_words(a: str, b: str, slips: int) -> None:
    """Levenshtein's classic pair; neighbours exchanged count once (restricted Damerau: "ca" to "abc" is 3, not 2)."""
    assert distance(a, b, 5) == slips


@pytest.mark.parametrize(
    ("typed", "meant"),
    (
        ("resistence", "resistance"),
        ("curent", "current"),
        ("seperated", "separated"),
        ("proportinal", "proportional"),
        ("tempreture", "temperature"),
        ("acelerates", "accelerates"),
        ("freqency", "frequency"),
    ),
)
def test_one_meaning_whatever_the_spelling(typed: str, meant: str) -> None:
    """AQA-P: a phonetic spelling is accepted unless it is ambiguous."""
    assert said(typed) == said(meant)


@pytest.mark.parametrize("typed", ("reflact", "fussion", "defraction", "refleraction"))
def test_a_spelling_between_two_terms_is_left_open(typed: str) -> None:
    """AQA-P: … unless it is ambiguous."""
    found = mend(stem(typed), sorted(lexicon().common | {s for p in lexicon().meanings for s in p}), lexicon().collisions)
    assert found.word is None


@pytest.mark.parametrize(
    ("typed", "reading"),
    (
        ("the terminals are not connected", "connected, denied"),
        ("the terminals are disconnected", "connected, denied"),
        ("the terminals aren't connected", "connected, denied"),
        ('the terminals isn"t connected', "connected, denied"),
        ("the terminals are not disconnected", "connected"),
        ("the terminals are connected", "connected"),
        ("there is no connection between the terminals", "connected, denied"),
        ("they are no longer connected", "connected, denied"),
        ("the terminals are never connected", "connected, denied"),
        ("the terminals fail to connect", "connected, denied"),
        ("without any connection", "connected, denied"),
        ("not only connected", "connected"),
    ),
)
def test_denial_of_a_word_with_an_opposite(typed: str, reading: str) -> None:
    assert ("connect" in said(typed), "-connect" in said(typed)) == (reading == "connected", reading == "connected, denied")


@pytest.mark.parametrize(
    "typed",
    (
        "no current flows",
        "the current does not flow",
        "there is no current",
        "the current is zero",
        "current = 0",
        "zero current",
        "the current is nil",
        "without current",
        "0 A",
    ),
)
def test_ways_to_say_that_there_is_none(typed: str) -> None:
    assert [c for c in said(typed) if "current" in c] == ["-current"]


@pytest.mark.parametrize(
    ("typed", "kept", "gone"),
    (
        ("it is inversely, no, directly proportional", "direct", "inverse"),
        ("it increases, sorry, decreases", "down", "up"),
        ("It increases. Ignore that. It decreases.", "down", "up"),
        ("~~it increases~~ it decreases", "down", "up"),
        ("it increases - no wait - decreases", "down", "up"),
    ),
)
def test_second_thoughts_replace_the_first(typed: str, kept: str, gone: str) -> None:
    assert kept in said(typed) and gone not in said(typed)


@pytest.mark.parametrize(
    "typed",
    ("", "I don't know", "idk", "no idea", "dont know sorry", "?", "- -", "not sure"),
)
def test_nothing_is_said(typed: str) -> None:
    assert read((typed,), KNOWN).blank


@pytest.mark.parametrize("typed", ("no", "zero", "they do not know the force so it grows and pushes"))
def test_something_is_said(typed: str) -> None:
    assert typed == "no" or not read((typed,), KNOWN).blank


@pytest.mark.parametrize(
    ("typed", "force", "mass"),
    (
        ("the force increases as the mass increases", 1, 1),
        ("as the mass goes up the force goes down", -1, 1),
        ("a greater mass means a smaller force", -1, 1),
        ("increasing the mass reduces the force", -1, 1),
        ("the mass and the force both increase", 1, 1),
        ("the force increases with mass", 1, 1),
        ("when the mass rises so does the force", 1, 1),
        ("the more mass, the more force", 1, 1),
        ("the force stays constant when the mass falls", 0, -1),
        ("an increase in mass causes a decrease in force", -1, 1),
        ("the mass is larger, therefore the force is weaker", -1, 1),
    ),
)
def test_direction_of_change(typed: str, force: int, mass: int) -> None:
    found = changes(read((typed,), KNOWN).clauses, frozenset(("force", "mass")))
    assert {name: way for name, (way, _) in found.items()} == {"force": force, "mass": mass}


@pytest.mark.parametrize(
    ("typed", "kind", "link"),
    (
        ("F = km", "proportional", Link.FOUND),
        ("F = constant × m", "proportional", Link.FOUND),
        ("F = 4.2 × m", "proportional", Link.FOUND),
        ("F ∝ m²", "proportional", Link.NONE),
        ("F/m = k", "proportional", Link.FOUND),
        ("F = k/m", "proportional", Link.OPPOSITE),
        ("F = k/m", "inverse", Link.FOUND),
        ("F × m = constant", "inverse", Link.FOUND),
        ("F ∝ 1/m", "inverse", Link.FOUND),
        ("F ∝ m", "proportional", Link.FOUND),
        ("F = m + c", "proportional", Link.NONE),
        ("F = m", "proportional", Link.NONE),
        ("the force is large because the mass is large", "because of", Link.FOUND),
        ("the mass is large because the force is large", "because of", Link.OPPOSITE),
        ("the mass is large so the force is large", "because of", Link.FOUND),
        ("no mass gives no force", "zero with", Link.FOUND),
        ("the force is zero when the mass is zero", "zero with", Link.FOUND),
        ("the force is zero", "zero with", Link.NONE),
        ("the force is equal to the mass", "equals", Link.FOUND),
        ("the force is not equal to the mass", "equals", Link.OPPOSITE),
        ("as the mass increases the force increases", "increases with", Link.FOUND),
        ("as the mass increases the force increases", "decreases with", Link.OPPOSITE),
        ("the force increases", "increases with", Link.NONE),
    ),
)
def test_relations(typed: str, kind: str, link: Link) -> None:
    assert relate(read((typed,), KNOWN), Relation(kind=kind, y="force", x="mass"), {}).link is link


def test_a_change_the_question_states_need_not_be_repeated() -> None:
    relation = Relation(kind="decreases with", y="force", x="mass")
    assert relate(read(("the force falls",), KNOWN), relation, {"mass": 1}).link is Link.FOUND
    assert relate(read(("the force rises",), KNOWN), relation, {"mass": 1}).link is Link.OPPOSITE


def test_the_schemes_terms_take_units_and_letters_with_them() -> None:
    known = vocabulary(["reading against mass"], {"reading": ["voltage"], "mass": ["load"]})
    assert [i.concept for i in read(("0 kg gives 0 mV",), known).mentions()] == [
        i.concept for i in read(("no load, no voltage",), known).mentions()
    ]


@pytest.mark.parametrize(
    ("typed", "labels"),
    (
        ("bulb a and b", {"A", "B"}),
        ("bulb A and a battery", {"A"}),
        ("terminal one", {"1"}),
        ("terminals 4, 5 and 6", {"4", "5", "6"}),
        ("a bulb", set()),
    ),
)
def test_labels_are_not_articles(typed: str, labels: set[str]) -> None:
    assert {i.concept for i in read((typed,), KNOWN).mentions() if i.role.name == "LABEL"} == labels
