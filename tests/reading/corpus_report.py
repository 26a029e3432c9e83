"""How the corpus of worked examples is read, measured:  python -m tests.reading.corpus_report [CHANGES]

Prints the lines read, the numeric equalities that hold, the listed exceptions, where another reading than the first was needed, and how
many of CHANGES seeded changes (5000 unless said) of a digit, sign, power or operation are caught.
"""

from __future__ import annotations

import random
import sys
from collections import Counter

from marker.reading import read_lines
from tests.reading.corpus import (
    EMPTY,
    FOLDER,
    Checked,
    Step,
    change,
    check_example,
    check_line,
    examples,
    exceptions,
    plain_lines,
    word_lines,
)

SEED = 20261125


# exceptions that hold to a reader, and why
HOLDING = {
    "1 kcal/4186 J": "(1 kcal)/(4186 J) is what is meant, and read",
    "1 min/60 s": "(1 min)/(60 s) is what is meant, and read",
    "mm Hg": "millimetre of mercury is a unit here",
    "25°C + 273.15": "a temperature in °C and 273.15 are added to one in kelvin",
    "= 1.56 × 10^(-6)": "the unit is left out on both sides of this step",
}


def _lines() -> None:
    lines = list(plain_lines())
    whole = [read_lines([t], EMPTY)[0] for t in lines]
    read = sum(len(line.statements) == 1 and not line.unread and not line.words for line in whole)
    print(f"plain lines read whole           {read} of {len(lines)}")
    words = list(word_lines())
    with_words = sum(bool(read_lines([t], EMPTY)[0].statements) for t in words)
    print(f"lines with words, some read      {with_words} of {len(words)}")


def _after_a_slip(c: Checked, listed: frozenset[tuple[str, str]]) -> bool:
    """A line that begins with = is compared with the line before, which may be the slip."""
    texts = next([x if isinstance(x, str) else x["text"] for x in e["lines"]] for e in examples() if e["id"] == c.example)
    place = texts.index(c.text)
    return c.text[0] in "=≈" and place > 0 and (c.example, texts[place - 1]) in listed


def _equalities(checked: list[Checked]) -> None:
    listed = exceptions()
    groups = {
        "others": [c for c in checked if (c.example, c.text) not in listed and not _after_a_slip(c, listed)],
        "compared with a slip": [c for c in checked if (c.example, c.text) not in listed and _after_a_slip(c, listed)],
        "listed exceptions": [c for c in checked if (c.example, c.text) in listed],
    }
    for name, group in groups.items():
        pairs, holding = sum(c.pairs for c in group), sum(c.holding for c in group)
        print(f"numeric equalities, {name:<20} {holding} of {pairs} hold ({100 * holding / pairs:.2f} %)")
    for c in groups["others"]:
        if c.holding < c.pairs:
            print(f"  does not hold: {c.text}")
    _exceptions(groups["listed exceptions"], checked)
    later = [c for c in checked if c.holding == c.pairs and c.reading > 0]
    print(f"lines where the first reading is not the one that holds: {len(later)} of {len(checked)}")
    for c in later:
        print(f"  reading {c.reading + 1}: {c.text}")


def _exceptions(found: list[Checked], checked: list[Checked]) -> None:
    """Each listed line: which step does not hold, and where all do, the arithmetic that says so."""
    wrong = [c for c in found if c.holding < c.pairs]
    after = {(c.example, t) for c in checked if c.holding < c.pairs and (t := _line_before(c))}
    others = [e for e in sorted(exceptions()) if e not in {(c.example, c.text) for c in found}]
    shows_after = [e for e in others if e in after]
    print(f"  listed lines: {len(wrong)} do not hold, {len(shows_after)} show in the line after, of {len(exceptions())}")
    for c in wrong:
        print("  does not hold: " + "; ".join(_said(s) for s in c.steps if not s.holds))
    for c in found:
        if c.holding == c.pairs:
            why = next((reason for part, reason in HOLDING.items() if part in c.text), "")
            print(f"  holds: {'; '.join(_said(s) for s in c.steps)}: {why}")
    for _, text in (e for e in others if e not in after):
        print(f"  no equality of numbers by itself: {text}")


def _said(step: Step) -> str:
    return f"{step.left} = {step.right} ({step.values[0]:.5g} and {step.values[1]:.5g})"


def _line_before(c: Checked) -> str:
    """The text a line that opens is compared with."""
    texts = next([x if isinstance(x, str) else x["text"] for x in e["lines"]] for e in examples() if e["id"] == c.example)
    place = texts.index(c.text)
    return texts[place - 1] if c.text[0] in "=≈" and place > 0 else ""


def _changes(checked: list[Checked], wanted: int) -> None:
    choose = random.Random(SEED)
    correct = [c for c in checked if c.holding == c.pairs and c.text[0] not in "=≈"]
    counts: Counter[str] = Counter()
    missed = []
    while sum(counts.values()) < wanted:
        original = choose.choice(correct)
        changed = change(original.text, choose)
        found = None if changed in (None, original.text) else check_line(original.example, read_lines([changed or ""], EMPTY)[0], None)
        if found is None:
            continue
        if found.holding < found.pairs:
            counts["caught"] += 1
        elif found.reading == 0:
            counts["within rounding, as typed"] += 1
        else:
            counts["held by another reading"] += 1
            missed.append(found)
    print(f"changed lines: {dict(counts)}")
    shown = counts["caught"] + counts["held by another reading"]
    print(f"caught of those that rounding can show: {100 * counts['caught'] / shown:.2f} %")
    for c in missed[:10]:
        print(f"  held by reading {c.reading + 1}: {c.text}")


def main(arguments: list[str]) -> None:
    if not FOLDER.is_dir():
        print("the corpus of worked examples is not beside this checkout")
        return
    _lines()
    checked = [found for example in examples() for found in check_example(example)]
    _equalities(checked)
    _changes(checked, int(arguments[0]) if arguments else 5000)


if __name__ == "__main__":
    main(sys.argv[1:])
