"""A small class test of two parts in a folder of its own, and the command line over it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.running import RESPONSES, SCHEME, Ran, run

Marker = Callable[..., Ran]


@pytest.fixture
def marker(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Marker:
    return lambda *words: run(capsys, monkeypatch, *words)


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The working folder, with scheme.toml and responses.csv in it."""
    (tmp_path / "scheme.toml").write_text(SCHEME, encoding="utf-8")
    (tmp_path / "responses.csv").write_text(RESPONSES, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path
