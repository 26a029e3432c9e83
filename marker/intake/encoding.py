"""Bytes of a text file to text: UTF-8 or UTF-16, else Windows-1252 with a note, else a refusal that names the line."""

from __future__ import annotations

import codecs

from marker.errors import Problem, ResponsesError

_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
_SAMPLE = 4096


def decode(data: bytes, file: str) -> tuple[str, tuple[str, ...]]:
    """The text and notes about it.

    A byte-order mark decides. Without one: UTF-16 when every other byte of the start is mostly zero, then UTF-8, then
    Windows-1252 (what older spreadsheet programs write in western Europe), which is noted because signs may come out wrong.
    Raises ResponsesError where none of them fits.
    """
    name = _announced(data)
    try:
        return data.decode(name or "utf-8"), ()
    except UnicodeDecodeError as error:
        if name is not None:
            raise _refusal(data, file, error, name.replace("-sig", "").upper()) from None
        return _older(data, file, error)


def _announced(data: bytes) -> str | None:
    for mark, name in _MARKS:
        if data.startswith(mark):
            return name
    sample = data[:_SAMPLE]
    half = len(sample) // 2
    if half and sample[1::2].count(0) > 0.4 * half > sample[0::2].count(0):
        return "utf-16-le"
    if half and sample[0::2].count(0) > 0.4 * half > sample[1::2].count(0):
        return "utf-16-be"
    return None


def _older(data: bytes, file: str, first: UnicodeDecodeError) -> tuple[str, tuple[str, ...]]:
    line = data.count(b"\n", 0, first.start) + 1
    if 0 in data:
        raise _refusal(data, file, first, "UTF-8")
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError:
        raise _refusal(data, file, first, "UTF-8") from None
    note = f"{file} is not UTF-8 (line {line}); it was read as Windows-1252."
    return text, (f"{note} Check signs such as ° ² µ; save it as UTF-8 if any looks wrong.",)


def _refusal(data: bytes, file: str, error: UnicodeDecodeError, name: str) -> ResponsesError:
    line = data.count(b"\n", 0, error.start) + 1
    seen = f"byte {data[error.start]:#04x} is not {name} text" if error.start < len(data) else f"the file is not {name} text"
    return ResponsesError(
        Problem(
            where=f"{file}, line {line} of the file",
            seen=seen,
            expected="UTF-8 or UTF-16",
            mend="Save or export the file again as CSV UTF-8.",
        )
    )
