"""Writing a file whole or not at all: an existing file stays until the new one is complete."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from marker.errors import OutputError, Problem


@contextmanager
def replacing(path: Path) -> Iterator[Path]:
    """A temporary path in the same folder; when the block ends well it takes the place of `path`, otherwise it is removed.

    Raises OutputError when the folder is missing, or the file cannot be written or replaced.
    """
    target = path.resolve() if path.is_symlink() else path
    if target.is_dir():
        raise OutputError(Problem(where=str(path), seen="a folder", expected="a file name", mend="Name the file to write in it."))
    temporary = target.with_name(f".{target.name[:80]}.{secrets.token_hex(4)}.part")
    try:
        temporary.touch(exist_ok=False)
        yield temporary
        _to_disk(temporary)
        os.replace(temporary, target)
    except OSError as error:
        raise OutputError(_problem(path, error)) from None
    finally:
        temporary.unlink(missing_ok=True)


def write_text(path: Path, text: str) -> None:
    """A UTF-8 text file, whole or not at all."""
    with replacing(path) as temporary:
        temporary.write_text(text, encoding="utf-8", newline="\n")


def _to_disk(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def _problem(path: Path, error: OSError) -> Problem:
    if isinstance(error, FileNotFoundError):
        return Problem(where=str(path), seen="its folder does not exist", mend="Make the folder first, or choose another.")
    if isinstance(error, PermissionError):
        return Problem(where=str(path), seen="it may not be written", mend="Close it in other programs, or choose another folder.")
    why = (error.strerror or "no reason given").lower()
    return Problem(where=str(path), seen=f"it could not be written ({why})", mend="Nothing was changed; choose another place.")
