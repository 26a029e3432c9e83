"""Whether one claim says another, says its contrary, or neither."""

from __future__ import annotations

from marker.kinds.written.claims.model import Claim
from marker.kinds.written.lexicon import lexicon

_SAYS = {
    "up": {"up", "twice"}, "down": {"down", "half"}, "steady": {"steady", "not up", "not down"},
    "changing": {"changing", "up", "down", "twice", "half"}, "twice": {"twice"}, "half": {"half"},
    "not up": {"not up", "steady"}, "not down": {"not down", "steady"},
    "not twice": {"not twice"}, "not half": {"not half"}, "not changing": {"steady"}, "not steady": {"changing"},
}  # fmt: skip
_EXCLUDES = {
    "up": {"down", "half", "steady", "not up"}, "down": {"up", "twice", "steady", "not down"},
    "steady": {"up", "down", "twice", "half", "changing"}, "changing": {"steady"},
    "twice": {"half", "down", "steady", "not twice", "not up"}, "half": {"twice", "up", "steady", "not half", "not down"},
    "not up": {"up", "twice"}, "not down": {"down", "half"},
}  # fmt: skip
_TURNED = {"less": "more", "more": "less", "equal": "equal", "unequal": "unequal"}
_UNLIKE = {"less": {"more", "equal"}, "more": {"less", "equal"}, "equal": {"less", "more", "unequal"}, "unequal": {"equal"}}


def agree(said: Claim, wanted: Claim) -> bool:
    """True when what is said of the thing is what is wanted of it; which thing it is said of is left open."""
    if said.kind != wanted.kind:
        return False
    if wanted.kind == "way":
        return said.way in _SAYS.get(wanted.way, {wanted.way})
    if wanted.kind == "act":
        return bool(set(said.senses) & set(wanted.senses))
    if wanted.kind == "compare":
        return said.way in (wanted.way, _TURNED[wanted.way])
    return said.sign == wanted.sign


def opposed(said: Claim, wanted: Claim) -> bool:
    """True when what is said excludes what is wanted, if they are about one thing."""
    if said.kind != wanted.kind:
        return False
    if wanted.kind == "way":
        return said.way in _EXCLUDES.get(wanted.way, set()) and not (said.level and wanted.way == "steady")
    if wanted.kind == "act":
        contrary = {(s, -sign) for s, sign in wanted.senses}
        return bool(set(said.senses) & contrary) and not agree(said, wanted)
    if wanted.kind == "compare":
        return said.way in _UNLIKE[wanted.way]
    return False


def one_way(a: Claim, b: Claim) -> bool:
    """Two wordings that say the same of the same thing, whatever is said besides."""
    if not agree(a, b):
        return False
    if b.kind == "way" and a.named and b.named and (a.heads - a.named) != (b.heads - b.named):
        return False
    return bool((a.heads | a.words) & b.heads) if b.kind == "way" else b.kind in ("act", "compare")


def rival(said: frozenset[str], wanted: frozenset[str]) -> bool:
    """True when something else of the same sort stands where a wanted thing is missing: beta for alpha, mass for weight."""
    contraries = lexicon().contraries
    missing = wanted - said
    extra = said - wanted
    return any(contraries.get(m, frozenset()) & extra for m in missing)
