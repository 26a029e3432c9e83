"""Responses that say the same, gathered so that a teacher settles each group once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from marker.kinds.written.decisions import response_key
from marker.kinds.written.part import WrittenPart
from marker.kinds.written.vocabulary import Vocabulary, vocabulary


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Responses that say the same. `members` are their places in the list given; `text` the one most often typed."""

    key: str
    text: str
    members: tuple[int, ...]


def group_key(response: str, part: WrittenPart | None = None) -> str:
    """Equal for responses that say the same: case, spelling, punctuation, order of clauses and little words do not matter."""
    return " / ".join(" ".join(clause) for clause in response_key(response.split("\n"), _known(part)))


def groups(responses: Iterable[str], part: WrittenPart | None = None) -> tuple[Group, ...]:
    """Groups of alike responses, largest first; equal ones in the order of their first member."""
    texts = list(responses)
    gathered: dict[str, list[int]] = {}
    for place, text in enumerate(texts):
        gathered.setdefault(group_key(text, part), []).append(place)
    made = [Group(key=k, text=_commonest([texts[n] for n in members]), members=tuple(members)) for k, members in gathered.items()]
    return tuple(sorted(made, key=lambda g: (-len(g.members), g.members[0])))


def _commonest(texts: list[str]) -> str:
    return max(texts, key=lambda t: (texts.count(t), -texts.index(t)))


_PLAIN: list[Vocabulary] = []


def _known(part: WrittenPart | None) -> Vocabulary:
    if part is not None:
        return part.known
    if not _PLAIN:
        _PLAIN.append(vocabulary())
    return _PLAIN[0]
