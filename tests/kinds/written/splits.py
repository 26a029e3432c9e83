"""How the shared answers are divided for measuring; nothing of them is kept here.

Questions are held out by a hash of their names (about a third): nothing was tuned on those. Of every question, each fifth answer
by a hash is an unseen answer, the others may be settled.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

SHARED = Path(__file__).resolve().parents[4] / "shared" / "written" / "electricity_answers.jsonl"
WHY_SKIPPED = "the shared written answers are not here (they are not part of the package)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    text: str
    label: str

    @property
    def correct(self) -> bool:
        return self.label == "correct"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    name: str
    stem: str
    accept: tuple[tuple[str, str], ...]
    answers: tuple[Answer, ...]

    @property
    def held_out(self) -> bool:
        return _hash(self.name) % 3 == 0

    @property
    def family(self) -> str:
        """Questions of one exercise, which ask nearly the same; their names begin alike."""
        start = self.name.split("_EXPLAIN")[0]
        return "VOLTAGE_GAP" if start in ("BULB_C_VOLTAGE", "BULB_ONLY", "VOLTAGE_GAP") else start

    def folds(self, count: int = 5) -> tuple[tuple[Answer, ...], ...]:
        """The answers in `count` parts by a hash of question and place."""
        order = sorted(range(len(self.answers)), key=lambda n: _hash(f"{self.name}{n}"))
        return tuple(tuple(self.answers[n] for n in order[k::count]) for k in range(count))

    def part(self, settled: Sequence[Answer] = ()) -> dict[str, object]:
        """The question as a part of a scheme: reference answers, and settled ones."""
        return {
            "name": "1", "kind": "written", "marks": 1, "stem": self.stem,
            "accept": [{"text": t, "kind": k} for k, t in self.accept],
            "settled": [{"text": a.text, "mark": int(a.correct), "contradicts": a.label == "contradictory"} for a in settled],
        }  # fmt: skip


def _hash(text: str) -> int:
    return int(sha256(text.encode()).hexdigest(), 16)


def questions(path: Path = SHARED) -> tuple[Question, ...]:
    rows = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
    return tuple(
        Question(
            name=r["question"],
            stem=r["text"],
            accept=tuple((a["kind"], a["text"]) for a in r["reference"]),
            answers=tuple(Answer(text=a["text"], label=a["label"]) for a in r["answers"]),
        )
        for r in rows
    )
