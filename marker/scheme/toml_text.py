"""What is wrong with a TOML file that could not be read, in words a teacher can act on."""

from __future__ import annotations

import re
import tomllib

from marker.errors import Problem

_PLACE = re.compile(r"\(at line (\d+), column (\d+)\)")
_BARE_KEY = re.compile(r"(?:^|[{,])\s*([^\s\"'={},\[\]#]*[^\x00-\x7f][^\s\"'={},\[\]#]*)\s*=")
_BARE_VALUE = re.compile(r"=\s*[^\s\"'\[{#][^#]*$")


def toml_problem(text: str, error: tomllib.TOMLDecodeError, where: str) -> Problem:
    """The fault of a file that is not valid TOML: the line, what stands there, and the mend."""
    found = _PLACE.search(str(error))
    lines = text.splitlines()
    number = min(int(found.group(1)), len(lines)) if found else len(lines)
    line = lines[number - 1].strip() if lines else ""
    place = f"{where}, line {number}"
    seen = f"{_short(line)!r} is not valid TOML" if line else "the file ends too soon"
    return Problem(where=place, seen=seen, mend=_mend(line, str(error), text))


def _mend(line: str, message: str, text: str) -> str:
    key = _BARE_KEY.search(line)
    if key is not None:
        return (
            f'Put a letter such as {key.group(1)} in quotation marks, "{key.group(1)}" = …, or write its name ({_name(key.group(1))} = …).'
        )
    lowered = message.lower()
    if "overwrite" in lowered or "twice" in lowered or "mutate" in lowered or "already" in lowered:
        return "This key or table stands twice; leave one of them."
    if "unterminated" in lowered or line.count('"') % 2:
        return 'A quotation mark is missing; texts stand between two, as in "64 mA".'
    if line.count("[") > line.count("]") or line.count("{") > line.count("}") or "unclosed" in lowered:
        return "A bracket is opened and not closed; an inline table { … } must end on its line."
    if "=" not in line and not line.startswith("["):
        return "Each line is a key, an equals sign and a value, such as marks = 3."
    if _BARE_VALUE.search(line):
        return 'Put texts in quotation marks, as in find = "R"; numbers stand alone, as in marks = 3.'
    return "Compare it with the lines round it: key = value, texts in quotation marks, lists in [ ]."


def _name(key: str) -> str:
    from marker.scheme.greek import LETTERS

    names = {sign: name for name, sign in LETTERS.items()}
    return "".join(names.get(c, c) for c in key)


def _short(line: str) -> str:
    return line if len(line) <= 60 else line[:57] + "…"
