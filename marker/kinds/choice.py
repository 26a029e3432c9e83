"""kind = "choice": one or several letters chosen from options, typed as letters or as the option's own words."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from pydantic import Field

from marker.kinds.base import Carried, Kind, PartSpec
from marker.kinds.choice_reading import Chosen, letters_chosen
from marker.kinds.choice_senses import option_in_words
from marker.kinds.short import Judged, capital, fault, refuse, result_of, where
from marker.kinds.words import in_words, is_blank, line_reports, tokens, too_long
from marker.reading import read_quantity
from marker.results import LineReport, PartResult
from marker.scheme.convention import Convention


class ChoiceSpec(PartSpec):
    """Keys of kind = "choice".

    options  letter -> text, or a list of texts lettered A, B, C …;  key  the right letter, or several
    wanted   how many the question asks for (default: as many as the key holds)
    points   "all": every right one and no wrong one for the marks; "each": the marks shared among those wanted.
             Default: "each" where there are as many marks as letters wanted and more than one, else "all"
    """

    kind: Literal["choice"] = "choice"
    options: dict[str, str] | list[str]
    key: str | list[str]
    wanted: int | None = Field(default=None, ge=1)
    points: Literal["all", "each"] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CompiledChoice:
    """options  (letter, text);  each  the letters share the marks."""

    name: str
    marks: int
    options: tuple[tuple[str, str], ...]
    key: tuple[str, ...]
    wanted: int
    each: bool
    convention: Convention

    @property
    def letters(self) -> frozenset[str]:
        return frozenset(letter for letter, _ in self.options)


def compile_choice(spec: ChoiceSpec, convention: Convention) -> CompiledChoice:
    """Raises SchemeError with the key and the mend."""
    convention = convention.with_rulings(spec.rulings)
    pairs = list(spec.options.items()) if isinstance(spec.options, dict) else list(zip("ABCDEFGHIJ", spec.options, strict=False))
    options = tuple((letter.strip().upper(), text) for letter, text in pairs)
    letters = [letter for letter, _ in options]
    key = tuple(k.strip().upper() for k in ([spec.key] if isinstance(spec.key, str) else spec.key))
    if len(options) < 2 or len(options) > 10 or any(len(letter) != 1 for letter in letters) or len(set(letters)) < len(letters):
        refuse(
            spec,
            "options",
            f"{len(pairs)} options",
            "two to ten options with different single letters",
            'Write options = { A = "…", B = "…" }.',
        )
    if not key or not set(key) <= set(letters) or len(set(key)) < len(key):
        refuse(spec, "key", f'"{", ".join(key)}"', f"letters of {', '.join(letters)}", "Name the right letter or letters, each once.")
    wanted = spec.wanted or len(key)
    if wanted > len(key):
        refuse(spec, "wanted", str(wanted), f"at most {len(key)}, as many as the key holds", "Lower it, or add letters to the key.")
    each = spec.points == "each" or (spec.points is None and spec.marks == wanted > 1)
    share = spec.marks / wanted
    if each and share != int(share) and not (convention.half_marks and 2 * share == int(2 * share)):
        refuse(
            spec, "points", f"{spec.marks} marks shared among {wanted} letters", "a whole mark each", 'Change marks, or use points = "all".'
        )
    return CompiledChoice(name=spec.name, marks=spec.marks, options=options, key=key, wanted=wanted, each=each, convention=convention)


# ---- reading ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The letters that count, in order; `lines` they stand on; `doubt` why a person should look, "" for none."""

    letters: tuple[str, ...] = ()
    lines: tuple[int, ...] = ()
    withdrawn: frozenset[int] = frozenset()
    doubt: str = ""


def read_choice(part: CompiledChoice, lines: Sequence[str]) -> Choice:
    """Letters first; the options' own words where there is no letter."""
    if is_blank(lines) and not any(c in part.letters for c in " ".join(lines).upper().split()):
        return Choice()
    found = letters_chosen(lines, part.letters)
    standing = [c for c in found if c.stands]
    if not standing and part.convention.crossed_out != "never":
        standing = [c for c in found if c.given_up and not c.refused and not c.aside][-part.wanted :]
    by_text = _by_text(part, lines)
    if standing:
        return _from_letters(part, lines, standing, found, by_text)
    if by_text:
        return Choice(letters=tuple(letter for letter, _ in by_text), lines=tuple(sorted({n for _, n in by_text})))
    if any(c.refused for c in found):
        return Choice(lines=tuple({c.line: 0 for c in found}))
    return Choice(doubt="no letter and no option could be made out")


def _from_letters(
    part: CompiledChoice, lines: Sequence[str], standing: Sequence[Chosen], found: Sequence[Chosen], by_text: list[tuple[str, int]]
) -> Choice:
    letters = tuple(dict.fromkeys(c.letter for c in standing))
    kept = {c.line for c in standing}
    gone = frozenset(c.line for c in found if c.given_up) - kept
    doubt = ""
    other = by_text[0][0] if len(by_text) == 1 else ""
    if len(letters) == 1 and other and (other in part.key) != (letters[0] in part.key) and _only_letter_and_text(part, lines, other):
        doubt = f"the letter is {letters[0]} and the words beside it are those of {other}"
    if too_long(lines):
        doubt = "the response is longer than is read"
    return Choice(letters=letters, lines=tuple(sorted(kept)), withdrawn=gone, doubt=doubt)


def _words(text: str) -> tuple[str, ...]:
    return tuple(t.text for t in tokens((text,)) if any(c.isalnum() for c in t.text) or t.text in "/^-+×*%°")


def _by_text(part: CompiledChoice, lines: Sequence[str]) -> list[tuple[str, int]]:
    """Options whose whole text stands in the response, longest first and none inside another; or the one whose quantity it is."""
    found: list[tuple[str, int]] = []
    for number, line in enumerate(lines, start=1):
        words = list(_words(line))
        for letter, text in sorted(part.options, key=lambda o: -len(_words(o[1]))):
            wanted = list(_words(text))
            at = _position(words, wanted)
            if at is not None and not _denied(words, at):
                found.append((letter, number))
                words[at : at + len(wanted)] = ["\0"]
    return found or _by_quantity(part, lines) or _by_sense(part, lines)


def _by_sense(part: CompiledChoice, lines: Sequence[str]) -> list[tuple[str, int]]:
    """The option that says the same in other words, where the whole response says nothing else."""
    typed = [n for n, line in enumerate(lines, start=1) if line.strip()]
    if not typed or too_long(lines):
        return []
    letter = option_in_words([(o, _words(text)) for o, text in part.options], _words(" ".join(lines)))
    return [(letter, typed[0])] if letter else []


def _denied(words: Sequence[str], at: int) -> bool:
    return at > 0 and words[at - 1] in ("not", "isnt", "no", "never")


def _position(words: Sequence[str], wanted: Sequence[str]) -> int | None:
    if not wanted:
        return None
    for at in range(len(words) - len(wanted) + 1):
        if list(words[at : at + len(wanted)]) == list(wanted):
            return at
    return None


def _by_quantity(part: CompiledChoice, lines: Sequence[str]) -> list[tuple[str, int]]:
    """ "6 N" for the option "6.0 N"."""
    typed = [(n, line.strip()) for n, line in enumerate(lines, start=1) if line.strip()]
    if len(typed) != 1:
        return []
    said = _quantity(typed[0][1])
    equal = [
        letter for letter, text in part.options if said is not None and (option := _quantity(text)) is not None and _equal(said, option)
    ]
    return [(equal[0], typed[0][0])] if len(equal) == 1 else []


def _quantity(text: str) -> tuple[float, tuple[float, ...]] | None:
    try:
        read = read_quantity(text)
    except ValueError:
        return None
    return read.si, () if read.unit is None else tuple(read.unit.dimensions)


def _equal(a: tuple[float, tuple[float, ...]], b: tuple[float, tuple[float, ...]]) -> bool:
    return a[1] == b[1] and abs(a[0] - b[0]) <= 1e-9 * max(abs(a[0]), abs(b[0]))


def _only_letter_and_text(part: CompiledChoice, lines: Sequence[str], letter: str) -> bool:
    """True when little but a letter and that option's words were typed."""
    text = dict(part.options)[letter]
    return sum(len(_words(line)) for line in lines) <= len(_words(text)) + 3


# ---- marking ----------------------------------------------------------------------------------------------------------


def mark_choice(part: CompiledChoice, lines: Sequence[str], carried: Carried) -> PartResult:
    """Marks the letters under the list rule. Nothing is carried into a choice."""
    choice = read_choice(part, lines)
    counted, note = _counted(part, choice.letters)
    if part.each:
        rights, share = _rights(part, counted), part.marks / part.wanted
        points = [_judged(part, choice, f"choice {n + 1}", share, n < rights, note) for n in range(part.wanted)]
    else:
        earned = sum(letter in part.key for letter in counted) >= part.wanted and set(counted) <= set(part.key)
        points = [_judged(part, choice, "choice", float(part.marks), earned, note)]
    return result_of(part.name, part.marks, points, _reports(part, lines, choice))


def _counted(part: CompiledChoice, letters: tuple[str, ...]) -> tuple[tuple[str, ...], str]:
    """The letters that count under the list rule, and a word on it where there are too many."""
    if len(letters) <= part.wanted:
        return letters, ""
    if part.convention.list_rule == "first":
        return letters[: part.wanted], f"of {len(letters)}, the first {part.wanted} count" if part.wanted > 1 else "the first one counts"
    if part.convention.list_rule == "best":
        ranked = sorted(letters, key=lambda letter: letter not in part.key)
        return tuple(ranked[: part.wanted]), "the best count"
    wanted = f"{part.wanted} {'is' if part.wanted == 1 else 'are'} wanted"
    return letters, f"{wanted}, and each wrong one too many cancels a right one"


def _rights(part: CompiledChoice, counted: tuple[str, ...]) -> int:
    """Right letters, less one for each letter beyond those wanted."""
    right = sum(letter in part.key for letter in counted)
    return max(0, min(right, part.wanted) - max(0, len(counted) - max(part.wanted, right)))


def _judged(part: CompiledChoice, choice: Choice, point: str, worth: float, earned: bool, note: str) -> Judged:
    both = {0.0: "not taken as the key", worth: "taken as the key"}
    return Judged(
        point=point,
        kind="choice",
        maximum=worth,
        marks=both if choice.doubt else worth * earned,
        reason=_sentence(part, choice, note),
        lines=choice.lines,
        doubt=choice.doubt,
        faults=(fault("too-many-chosen", choice.lines[0]),) if len(choice.letters) > part.wanted and not earned else (),
    )


def _sentence(part: CompiledChoice, choice: Choice, note: str) -> str:
    if choice.doubt:
        return f"{capital(choice.doubt)}."
    if not choice.letters:
        return "Nothing is chosen."
    chosen = f"{in_words(choice.letters)} {'is' if len(choice.letters) == 1 else 'are'} chosen"
    tail = f"; {note}" if note else ""
    if set(choice.letters) <= set(part.key) and len(choice.letters) >= part.wanted:
        return f"{where(choice.lines)}{chosen}, as in the key{tail}."
    return f"{where(choice.lines)}{chosen}; the key is {in_words(part.key, 'and' if len(part.key) == part.wanted else 'or')}{tail}."


def _reports(part: CompiledChoice, lines: Sequence[str], choice: Choice) -> tuple[LineReport, ...]:
    right = bool(choice.letters) and set(choice.letters) <= set(part.key)
    verdict = "unread" if choice.doubt else "right" if right else "wrong"
    said = {n: (verdict, "", tuple(choice.letters)) for n in choice.lines if choice.letters}
    gone = {n: ("withdrawn", "", ()) for n in choice.withdrawn if n not in said}
    nothing = bool(choice.doubt) and not choice.letters
    unread = frozenset(n for n, text in enumerate(lines, start=1) if text.strip() and nothing)
    return line_reports(lines, {**gone, **said}, unread)


def model_choice(part: CompiledChoice) -> tuple[str, ...]:
    """The first letters of the key, as many as are wanted."""
    return (", ".join(part.key[: part.wanted]),)


KIND = Kind(name="choice", spec=ChoiceSpec, compile=compile_choice, mark=mark_choice, model=model_choice)
