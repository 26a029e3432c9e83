"""From marked responses to what a student is shown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from marker.reporting.decisions import Decisions, standing, usable
from marker.reporting.faults import fault_words
from marker.reporting.feedback.mathml import safe_mathml
from marker.reporting.feedback.model import LineView, PartView, PractiseView, SheetView
from marker.reporting.feedback.wording import BLANK, UNREAD, Wording
from marker.reporting.paper import Key, MarkedPaper, mark_text
from marker.reporting.workbook.pen import plain_text
from marker.results import Award, LineReport, Outcome, PartResult

Answers = Mapping[str, Sequence[str]]
_TONES = {"right": "good", "follows": "good", "wrong": "bad", "unread": "open"}
_STATES = {"full": "✓ all marks", "some": "◐ some marks", "none": "○ no mark yet", "blank": "○ left blank", "open": "? with your teacher"}
_WITH_READING = frozenset({"right", "follows", "wrong", "data", "value", "unused", "withdrawn"})
LONGEST_LINE = 2_000
"""Characters of one typed line that are shown."""


def sheets(marked: MarkedPaper, decisions: Decisions | None, answers: Answers, words: Wording) -> tuple[SheetView, ...]:
    """One sheet for each candidate, in class order."""
    marks = standing(marked, decisions)
    own = _own_decisions(marked, decisions)
    return tuple(_sheet(marked, c, f"s{n}", marks, own, answers, words) for n, c in enumerate(marked.candidates, start=1))


def _own_decisions(marked: MarkedPaper, decisions: Decisions | None) -> frozenset[Key]:
    maxima = dict(marked.parts)
    made = decisions.made if decisions is not None else {}
    return frozenset(k for k, d in made.items() if k[1] in maxima and usable(d, maxima[k[1]], marked.half_marks))


def _sheet(
    marked: MarkedPaper, candidate: str, anchor: str, marks: Mapping[Key, float], own: frozenset[Key], answers: Answers, words: Wording
) -> SheetView:
    parts: list[PartView] = []
    results: list[PartResult] = []
    for n, (part, maximum) in enumerate(marked.parts, start=1):
        result = marked.results.get((candidate, part)) or PartResult(part=part, mark=0, maximum=maximum)
        mark = marks.get((candidate, part), result.mark)
        decided = (candidate, part) in own
        results.append(result)
        parts.append(part_view(result, mark, decided, f"{anchor}p{n}", answers.get(part, ()), words, _own_slips(results)))
    practise = _practise(results, parts)
    return SheetView(
        candidate=candidate,
        anchor=anchor,
        group=marked.groups.get(candidate, ""),
        title=marked.title,
        mark=mark_text(sum(marks.get((candidate, p), 0) for p, _ in marked.parts)),
        maximum=mark_text(marked.maximum),
        waiting=any(p.state == "open" for p in parts),
        parts=tuple(parts),
        practise=practise,
        practise_text=_practise_text(parts, practise, words),
        remarks=_remarks(parts, words),
    )


def _own_slips(results: Sequence[PartResult]) -> tuple[str, ...]:
    """The candidate's own values that are not right and stand in a line of the last part, as typed.

    The last value of that part is not carried on yet.
    """
    last = results[-1]
    written = [plain_text(line.text) for line in last.lines]
    earlier = [o for r in results[:-1] for o in r.own if any(_stands_in(o.typed, text) for text in written)]
    found = (f"{o.symbol} = {o.typed} {o.unit}".strip() for o in (*earlier, *last.own[:-1]) if not o.right and o.typed)
    return tuple(dict.fromkeys(plain_text(text) for text in found))


def _stands_in(typed: str, text: str) -> bool:
    """Whether a number stands in a line as typed, not as a piece of a longer one."""
    at = text.find(typed) if typed else -1
    while at >= 0:
        before, after = text[at - 1 : at], text[at + len(typed) : at + len(typed) + 1]
        if not before.isdigit() and before not in (".", ",") and not after.isdigit():
            return True
        at = text.find(typed, at + 1)
    return False


def part_view(
    result: PartResult,
    mark: float,
    decided: bool,
    anchor: str,
    solution: Sequence[str],
    words: Wording,
    own_slips: Sequence[str] = (),
) -> PartView:
    """One response as its candidate is shown it. `own_slips` are own values, here or in earlier parts, that are not right."""
    state = _state(result, mark, decided)
    told = _advice(result, state, words)
    lines = tuple(_line(line, result, told.pop(line.number, ()), words) for line in result.lines)
    return PartView(
        name=result.part,
        anchor=anchor,
        mark=mark_text(mark),
        maximum=mark_text(result.maximum),
        state=state,
        state_text=_STATES[state],
        lines=lines,
        messages=_messages(result, state, decided, words, own_slips),
        advice=tuple(sentence for rest in told.values() for sentence in rest),
        next_step="" if mark >= result.maximum else _next_step(result, words),
        solution=tuple(plain_text(x) for x in solution),
    )


def _state(result: PartResult, mark: float, decided: bool) -> str:
    if result.referred and not decided:
        return "open"
    if mark >= result.maximum:
        return "full"
    if not result.lines:
        return "blank"
    return "some" if mark > 0 else "none"


def _line(line: LineReport, result: PartResult, advice: tuple[str, ...], words: Wording) -> LineView:
    text = plain_text(line.text)[:LONGEST_LINE]
    start, end = _spot(line, len(text))
    verdict = words.verdict(line.verdict)
    shown = line.verdict in _WITH_READING
    mathml = safe_mathml(line.mathml) if shown else ""
    reading = plain_text(" ; ".join(line.readings))[:LONGEST_LINE] if shown and line.readings and not mathml else ""
    return LineView(
        number=line.number,
        before=text[:start],
        spot=text[start:end],
        after=text[end:],
        sign=verdict.sign,
        verdict=verdict.text,
        tone=_TONES.get(line.verdict, "plain"),
        mathml=mathml,
        reading="" if "".join(reading.split()) == "".join(text.split()) else reading,
        earned=tuple(_earned(a, words) for a in result.awards if a.mark > 0 and a.lines and max(a.lines) == line.number),
        advice=advice,
    )


def _spot(line: LineReport, length: int) -> tuple[int, int]:
    """(start, end) from 0 of the characters a wrong line is about; (0, 0) for none or for the whole line."""
    if line.columns is None or line.verdict != "wrong":
        return 0, 0
    start, end = max(line.columns[0] - 1, 0), min(line.columns[1] - 1, length)
    return (start, end) if start < end and end - start < length else (0, 0)


def _earned(award: Award, words: Wording) -> str:
    open_mark = "?" if award.outcome is Outcome.REFERRED else ""
    return f"+{mark_text(award.mark)}{open_mark} {words.point(award.kind).name}"


def _messages(result: PartResult, state: str, decided: bool, words: Wording, own_slips: Sequence[str]) -> tuple[str, ...]:
    said: list[str] = []
    if state == "open":
        said.append(words.part.referred)
    if decided:
        said.append(words.part.decided)
    if not result.lines:
        said.append(words.part.blank)
    if own_slips and any(a.followed_through and a.mark > 0 for a in result.awards):
        named = len(own_slips) == 1
        said.append(words.part.own_value_named.replace("{values}", own_slips[0]) if named else words.part.own_value)
    return tuple(said)


def _advice(result: PartResult, state: str, words: Wording) -> dict[int, tuple[str, ...]]:
    """Line number (0 for no line in particular) -> what went wrong there; nothing where no mark was lost."""
    if state == "full":
        return {}
    told: dict[int, list[str]] = {}
    seen: set[str] = set()
    for fault in result.faults:
        sentence = plain_text((words.part.unsure if not fault.sure else "") + (fault.student or fault.teacher))
        if sentence.strip() and sentence not in seen:
            seen.add(sentence)
            told.setdefault(fault.line or 0, []).append(sentence)
    return {line: tuple(sentences) for line, sentences in told.items()}


def _next_step(result: PartResult, words: Wording) -> str:
    """The first thing to do: against the first fault the working shows, else towards the first point that is lacking."""
    if not result.lines:
        return words.point(BLANK).next
    if all(line.verdict == "unread" for line in result.lines):
        return words.point(UNREAD).next
    sure = sorted((f for f in result.faults if f.sure), key=lambda f: f.line or len(result.lines) + 1)
    against = next((words.faults[family] for f in sure if (family := fault_words(f.code).family) in words.faults), "")
    lacking = next((a for a in result.awards if a.mark < a.maximum), None)
    return against or words.point(lacking.kind if lacking is not None else "").next


def _practise(results: Sequence[PartResult], parts: Sequence[PartView]) -> tuple[PractiseView, ...]:
    """Kinds of fault over the paper, the commonest first; faults practised in the same way stand together."""
    found: dict[str, tuple[str, dict[str, str]]] = {}
    for result, part in zip(results, parts, strict=True):
        if part.state == "full":
            continue
        for fault in result.faults:
            if fault.sure:
                words = fault_words(fault.code)
                _, places = found.setdefault(words.practise or words.name, (words.name, {}))
                places.setdefault(part.name, part.anchor)
    ranked = sorted(found.items(), key=lambda item: -len(item[1][1]))
    return tuple(PractiseView(name=name, practise=practise, parts=tuple(places.items())) for practise, (name, places) in ranked)


def _practise_text(parts: Sequence[PartView], practise: Sequence[PractiseView], words: Wording) -> str:
    if practise:
        return words.page.practise_intro
    return words.page.practise_all_right if all(p.state == "full" for p in parts) else words.page.practise_none


def _remarks(parts: Sequence[PartView], words: Wording) -> tuple[str, ...]:
    said: list[str] = []
    for state, text in (("full", words.page.full_parts), ("blank", words.page.blank_parts)):
        names = [p.name for p in parts if p.state == state]
        if names and len(names) < len(parts):
            said.append(text.replace("{parts}", ", ".join(names)))
    return tuple(said)
