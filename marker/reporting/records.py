"""Records: one JSON object per candidate and part, in the stable shape of `marker.results.as_record`, and back."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from marker.errors import Problem, RecordsError
from marker.reporting.atomic import replacing
from marker.results import Award, FaultFound, LineReport, Outcome, OwnValue, PartResult, Possibility, Referral, as_record


def write_records(path: Path, marked: Iterable[tuple[str, PartResult]]) -> None:
    """One line per (candidate, result), UTF-8. An existing file is replaced once the new one is complete. Raises OutputError."""
    with replacing(path) as temporary, temporary.open("w", encoding="utf-8", errors="backslashreplace", newline="\n") as file:
        for candidate, result in marked:
            file.write(_json(as_record(candidate, result)))
            file.write("\n")


def read_records(path: Path) -> tuple[tuple[str, PartResult], ...]:
    """(candidate, result) of each line, in the order of the file. Raises RecordsError that names the line and the key."""
    found: list[tuple[str, PartResult]] = []
    seen: dict[tuple[str, str], int] = {}
    for number, line in enumerate(_text(path).split("\n"), start=1):
        if not line.strip():
            continue
        where = f"{path.name}, line {number}"
        try:
            candidate, result = from_record(json.loads(line))
        except KeyError as error:
            raise RecordsError(_broken(where, f"no key {error}")) from None
        except (ValueError, TypeError, AttributeError, RecursionError):
            raise RecordsError(_broken(where, "not a record of a marked response")) from None
        before = seen.setdefault((candidate, result.part), number)
        if before != number:
            raise RecordsError(_broken(where, f'candidate "{candidate}", part "{result.part}" is already in line {before}'))
        found.append((candidate, result))
    return tuple(found)


def from_record(record: Mapping[str, Any]) -> tuple[str, PartResult]:
    """The (candidate, result) a record was made of; keys this version does not know are passed over.

    Raises KeyError for a missing key, ValueError or TypeError for a value of the wrong kind.
    """
    result = PartResult(
        part=str(record["part"]),
        mark=float(record["mark"]),
        maximum=float(record["max"]),
        awards=tuple(_award(a) for a in record["points"]),
        faults=tuple(_fault(f) for f in record["faults"]),
        lines=tuple(_line(n, x) for n, x in enumerate(record["lines"], start=1)),
        referral=_referral(record["referred"]),
        own=tuple(_own(o) for o in record.get("own", ())),
        notes=tuple(str(n) for n in record.get("notes", ())),
    )
    return str(record["candidate"]), result


def _json(record: Mapping[str, Any]) -> str:
    """One line of JSON; a value that is no finite number is written as text ("inf"), which reads back as the same number."""
    try:
        return json.dumps(record, ensure_ascii=False, allow_nan=False)
    except ValueError:
        return json.dumps(_finite(record), ensure_ascii=False, allow_nan=False)


def _finite(value: Any) -> Any:
    if isinstance(value, float) and not math.isfinite(value):
        return str(value)
    if isinstance(value, Mapping):
        return {k: _finite(v) for k, v in value.items()}
    return [_finite(v) for v in value] if isinstance(value, list) else value


def _award(record: Mapping[str, Any]) -> Award:
    return Award(
        point=str(record["point"]),
        kind=str(record.get("kind", "")),
        mark=float(record["mark"]),
        maximum=float(record["max"]),
        outcome=Outcome(record["outcome"]) if "outcome" in record else _outcome(record),
        reason=str(record["reason"]),
        lines=tuple(int(n) for n in record["lines"]),
        followed_through=bool(record["followed_through"]),
        fault=str(record.get("fault", "")),
    )


def _outcome(record: Mapping[str, Any]) -> Outcome:
    """For a record that gives marks only."""
    return Outcome.EARNED if record["mark"] > 0 else Outcome.NOT_EARNED


def _fault(record: Mapping[str, Any]) -> FaultFound:
    return FaultFound(
        code=str(record["kind"]),
        line=None if record["line"] is None else int(record["line"]),
        teacher=str(record.get("teacher", "")),
        student=str(record.get("student", "")),
        sure=bool(record.get("sure", True)),
    )


def _line(number: int, record: Mapping[str, Any]) -> LineReport:
    columns = record.get("columns")
    return LineReport(
        number=int(record.get("line", number)),
        text=str(record["text"]),
        readings=tuple(str(r) for r in record["readings"]),
        verdict=str(record["verdict"]),
        note=str(record.get("note", "")),
        columns=None if columns is None else (int(columns[0]), int(columns[1])),
        mathml=str(record.get("mathml", "")),
    )


def _referral(record: Mapping[str, Any] | None) -> Referral | None:
    if not record:
        return None
    found = tuple(Possibility(text=str(p["text"]), mark=float(p["mark"])) for p in record["possibilities"])
    return Referral(reason=str(record["reason"]), possibilities=found)


def _own(record: Mapping[str, Any]) -> OwnValue:
    return OwnValue(
        symbol=str(record["symbol"]),
        value=float(record["value"]),
        typed=str(record["typed"]),
        unit=str(record["unit"]),
        right=bool(record["right"]),
    )


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise RecordsError(Problem(where=str(path), seen="no such file", mend="Check the name and the folder.")) from None
    except UnicodeDecodeError:
        mend = "Write the records again with --records."
        raise RecordsError(Problem(where=path.name, seen="not UTF-8 text", expected="records of a marking", mend=mend)) from None
    except OSError as error:
        why = (error.strerror or "no reason given").lower()
        raise RecordsError(Problem(where=str(path), seen=f"cannot be read ({why})", mend="Check that you may read it.")) from None


def _broken(where: str, seen: str) -> Problem:
    expected = "one record of a marked response on each line"
    return Problem(where=where, seen=seen, expected=expected, mend="Write the records again with --records.")
