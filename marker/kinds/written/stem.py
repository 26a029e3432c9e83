"""One stem for the forms of an English word: connects, connected, connecting and connection give "connect".

Endings of inflection only, and -ly and -ion where they leave the meaning alone. Families that share no
spelling (stretch, extension) are data in rubrics/words.toml.
"""

from functools import lru_cache

_VOWELS = frozenset("aeiouy")
# Words in -ion that are not the noun of the verb left when the ending goes.
_KEEP_ION = frozenset(
    [
        "direction",
        "motion",
        "position",
        "friction",
        "fraction",
        "function",
        "section",
        "question",
        "station",
        "junction",
        "portion",
        "region",
        "million",
        "proportion",
        "notion",
        "mention",
        "ration",
        "option",
        "auction",
        "caution",
        "action",
        "precision",
        "fusion",
        "fission",
        "ion",
        "anion",
        "cation",
        "traction",
    ]
)
_KEEP = frozenset(
    [
        "series",
        "physics",
        "always",
        "lens",
        "gas",
        "bus",
        "plus",
        "this",
        "thus",
        "axis",
        "basis",
        "mass",
        "less",
        "across",
        "process",
        "ring",
        "bring",
        "string",
        "spring",
        "king",
        "thing",
        "wing",
        "being",
        "during",
        "bed",
        "red",
        "need",
        "speed",
        "feed",
        "shed",
        "led",
        "reply",
        "supply",
        "apply",
        "only",
        "fly",
        "ally",
        "early",
        "zeroed",
        "zeroing",
    ]
)


@lru_cache(maxsize=50_000)
def stem(word: str) -> str:
    """The stem of one lower-case word. Words of three letters or fewer stay as they are."""
    if len(word) <= 3 or not word.isalpha():
        return word
    word = _verb(_adverb(_plural(word))) if word not in _KEEP else word
    return _close(_noun(word))


def _plural(word: str) -> str:
    if word in _KEEP or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("xes", "ches", "shes", "sses")):
        return word[:-2]
    return word[:-1]


def _adverb(word: str) -> str:
    return word[:-2] if word.endswith("ly") and len(word) > 5 and word not in _KEEP else word


def _verb(word: str) -> str:
    if word in _KEEP:
        return word
    for ending in ("ing", "ed"):
        rest = word[: -len(ending)]
        if word.endswith(ending) and len(rest) >= 3 and _VOWELS & set(rest) and not word.endswith("eed"):
            return rest
    return word


def _noun(word: str) -> str:
    if word.endswith("ion") and len(word) > 6 and word not in _KEEP_ION and word[-4] in "ts":
        return word[:-3]
    return word


def _close(word: str) -> str:
    """Final e dropped, double letters at the end made one, final y written i."""
    if len(word) > 3 and word.endswith("e"):
        word = word[:-1]
    if len(word) > 3 and word[-1] == word[-2]:
        word = word[:-1]
    return word[:-1] + "i" if len(word) > 3 and word.endswith("y") else word
