"""A written part made ready: every wording of the scheme read once, the question's own words known, decisions learned."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from marker.kinds.written.change import changes
from marker.kinds.written.claims.claims import claims
from marker.kinds.written.claims.model import Claims
from marker.kinds.written.claims.speech import speech
from marker.kinds.written.claims.tokens import Speech
from marker.kinds.written.claims.verdict import Wants
from marker.kinds.written.claims.wanted import samples
from marker.kinds.written.decisions import Decision, by_key
from marker.kinds.written.evidence import Wording, wording
from marker.kinds.written.learning import Key, Learned
from marker.kinds.written.lexicon import phrase
from marker.kinds.written.model import Item
from marker.kinds.written.prose import read
from marker.kinds.written.relation import Relation
from marker.kinds.written.spec import AcceptSpec, IdeaSpec, WrittenSpec
from marker.kinds.written.vocabulary import Vocabulary, vocabulary
from marker.scheme.convention import Convention


@dataclass(frozen=True, slots=True, kw_only=True)
class Idea:
    """One key idea. `states` is how reasons name it; `required` holds, for each needed term, its alternatives as read.

    relation_wanted  the relation must be found (there is no other way to earn the idea)
    """

    name: str
    states: str
    marks: int
    depends: tuple[str, ...]
    samples: tuple[Wording, ...]
    required: tuple[tuple[tuple[Item, ...], ...], ...]
    relation: Relation | None
    not_enough: tuple[Wording, ...]
    contradicts: tuple[Wording, ...]
    wants: Wants | None = None
    learned: Learned | None = None

    @property
    def relation_concepts(self) -> frozenset[str]:
        """What a clause that states the relation is made of."""
        return frozenset((self.relation.y, self.relation.x, "up", "down", "steady", "sam", "constant")) if self.relation else frozenset()

    @property
    def concepts(self) -> frozenset[str]:
        groups = (self.samples, self.contradicts)
        terms = {i.concept for alternatives in self.required for items in alternatives for i in items}
        return frozenset(terms).union(*(w.concepts for group in groups for w in group))


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenPart:
    """light  given by accepted answers only;  given  concepts of the question;  used  those and of all wordings

    stated  changes the question itself states: quantity -> +1, -1 or 0
    """

    name: str
    marks: int
    light: bool
    ideas: tuple[Idea, ...]
    known: Vocabulary
    speech: Speech
    given: frozenset[str]
    used: frozenset[str]
    stated: Mapping[str, int]
    needs: int | None
    wants: int | None
    wrong: tuple[Wording, ...]
    ignore: tuple[Wording, ...]
    list_rule: str
    half_marks: bool
    decisions: Mapping[Key, tuple[Decision, ...]]


def compile_part(spec: WrittenSpec, convention: Convention, settled: Sequence[Decision]) -> WrittenPart:
    """Ready for marking, but for what settled responses teach (see judge.teach)."""
    ruled = convention.with_rulings(spec.rulings)
    known = vocabulary(_texts(spec), _terms(spec))
    given = frozenset(i.concept for i in read((spec.stem,), known).mentions())
    spoken = speech(_texts(spec), _terms(spec))
    maker = _Maker(known, given, spoken, claims((spec.stem,), spoken))
    ideas = (_light(spec, maker),) if spec.accept else tuple(_idea(i, maker) for i in spec.idea)
    wrong, ignore = maker.wordings(spec.wrong), maker.wordings(spec.ignore)
    samples = [w for i in ideas for w in (*i.samples, *i.not_enough, *i.contradicts)] + [*wrong, *ignore]
    return WrittenPart(
        name=spec.name,
        marks=spec.marks,
        light=bool(spec.accept),
        ideas=ideas,
        known=known,
        speech=spoken,
        given=given,
        used=given.union(*(w.concepts for w in samples), *(i.concepts for i in ideas)),
        stated={q: way for q, (way, _) in changes(read((spec.stem,), known).clauses, known.quantities).items()},
        needs=spec.needs,
        wants=spec.wants,
        wrong=wrong,
        ignore=ignore,
        list_rule=ruled.list_rule,
        half_marks=ruled.half_marks,
        decisions=by_key(settled, known),
    )


@dataclass(frozen=True, slots=True)
class _Maker:
    known: Vocabulary
    given: frozenset[str]
    speech: Speech
    stem: Claims

    def wants(self, says: Sequence[str], not_enough: Sequence[str], contradicts: Sequence[str]) -> Wants:
        lists = [samples(texts, self.stem, self.speech, texts is says) for texts in (says, not_enough, contradicts)]
        given = frozenset(w for c in self.stem.claims for w in c.words)
        return Wants(says=lists[0], not_enough=lists[1], contradicts=lists[2], given=given, known=self.speech.right)

    def wording(self, text: str, kind: str = "good") -> Wording:
        return wording(text, kind, read((text,), self.known), self.given, self.known.lexicon)

    def wordings(self, texts: Iterable[str], kind: str = "good") -> tuple[Wording, ...]:
        return tuple(w for w in (self.wording(t, kind) for t in texts) if w.items)

    def items(self, text: str) -> tuple[Item, ...]:
        return tuple(read((text,), self.known).mentions())


def _light(spec: WrittenSpec, maker: _Maker) -> Idea:
    accepted = [a if isinstance(a, AcceptSpec) else AcceptSpec(text=a) for a in spec.accept]
    return Idea(
        name="answer",
        states=accepted[0].text,
        marks=spec.marks,
        depends=(),
        samples=tuple(w for w in (maker.wording(a.text, a.kind) for a in accepted) if w.items),
        required=(),
        relation=None,
        not_enough=(),
        contradicts=(),
    )


def _idea(spec: IdeaSpec, maker: _Maker) -> Idea:
    words = _relation_texts(spec, maker.known)
    says = list(spec.says) or [" ".join(alternatives[0] for alternatives in spec.any if alternatives)] * bool(spec.any)
    return Idea(
        name=spec.name,
        states=(spec.says or words["states"] or [" and ".join(a[0] for a in spec.any if a)])[0],
        marks=spec.marks,
        depends=tuple(spec.depends),
        samples=maker.wordings([*says, *words["says"]]) or maker.wordings(words["states"], "relation"),
        required=tuple(tuple(maker.items(t) for t in alternatives if maker.items(t)) for alternatives in spec.any),
        relation=_relation(spec, maker),
        not_enough=maker.wordings([*spec.not_enough, *words["not_enough"]]),
        contradicts=maker.wordings([*spec.contradicts, *words["contradicts"]]),
        wants=maker.wants([*says, *words["says"]], [*spec.not_enough, *words["not_enough"]], [*spec.contradicts, *words["contradicts"]]),
    )


def _relation(spec: IdeaSpec, maker: _Maker) -> Relation | None:
    if spec.relation is None:
        return None
    y, x = (_concept(name, maker) for name in spec.relation.between)
    return Relation(kind=spec.relation.kind, y=y, x=x)


def _concept(name: str, maker: _Maker) -> str:
    """The concept a quantity of a relation is read as."""
    items = maker.items(name)
    return items[-1].concept if items else "_".join(phrase(name))


def _relation_texts(spec: IdeaSpec, known: Vocabulary) -> dict[str, list[str]]:
    """The lexicon's wordings of the relation with this idea's quantities in them."""
    if spec.relation is None:
        return {"states": [], "says": [], "not_enough": [], "contradicts": []}
    words, (y, x) = known.lexicon.relations[spec.relation.kind], spec.relation.between

    def fill(texts: Iterable[str]) -> list[str]:
        return [t.replace("{Y}", y).replace("{X}", x) for t in texts]

    # A relation that is no more than an order of change or of cause is looked for in the sentence, not by its words.
    says = fill(words.says) if spec.relation.kind in ("proportional", "inverse") else []
    return {"states": fill([words.states]), "says": says, "not_enough": fill(words.not_enough), "contradicts": fill(words.contradicts)}


def _terms(spec: WrittenSpec) -> dict[str, list[str]]:
    merged: dict[str, list[str]] = {k: list(v) for k, v in spec.terms.items()}
    for idea in spec.idea:
        for name, others in idea.terms.items():
            merged.setdefault(name, []).extend(others)
    return merged


def _texts(spec: WrittenSpec) -> list[str]:
    texts = [spec.stem, *spec.wrong, *spec.ignore, *(a if isinstance(a, str) else a.text for a in spec.accept)]
    for idea in spec.idea:
        texts += [*idea.says, *idea.not_enough, *idea.contradicts, *(t for a in idea.any for t in a)]
        texts += [t for name, others in idea.terms.items() for t in (name, *others)]
        texts += idea.relation.between if idea.relation else []
    return texts
