"""What the README shows a teacher works as written: its scheme parts, its line of working, its commands' names and options."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from typer.main import get_command

from marker.cli import app
from marker.scheme.paper import load_scheme
from tests.cli.conftest import Marker
from tests.cli.running import ROOT

TEXT = (ROOT / "README.md").read_text(encoding="utf-8") if (ROOT / "README.md").is_file() else ""
BLOCKS = [re.sub(r"(?m)^   ", "", block) for block in re.findall(r"(?ms)^ *```toml\n(.*?)^ *```", TEXT)]
_LISTED = "\n".join(re.findall(r"(?ms)^```\n(.*?)```", TEXT))
COMMANDS = sorted({*re.findall(r"`(marker [a-z][^`…]*)`", TEXT), *re.findall(r"(?m)^(marker [a-z].*)$", _LISTED)})


def test_there_is_something_to_try() -> None:
    assert len(BLOCKS) == 3 and len(COMMANDS) >= 10


@pytest.mark.parametrize("number", range(len(BLOCKS)))
def test_a_scheme_of_the_readme_passes_its_check(tmp_path: Path, marker: Marker, number: int) -> None:
    head = "" if "[paper]" in BLOCKS[number] else '[paper]\ntitle = "Example"\n\n'
    (tmp_path / "scheme.toml").write_text(head + BLOCKS[number], encoding="utf-8")
    assert load_scheme(tmp_path / "scheme.toml").parts
    ran = marker("scheme", "check", tmp_path / "scheme.toml")
    assert ran.status == 0 and "The scheme passes." in ran.out


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_of_the_readme_is_one_with_the_options_named(command: str) -> None:
    """Parsed as the command line parses it; nothing is run."""
    here = get_command(app)
    words = shlex.split(command)[1:]
    while words and words[0] in getattr(here, "commands", {}):
        here = here.commands[words.pop(0)]  # type: ignore[attr-defined]
    assert not hasattr(here, "commands") or not words
    options = {name for parameter in here.params for name in parameter.opts}
    assert {word for word in words if word.startswith("-")} <= options
