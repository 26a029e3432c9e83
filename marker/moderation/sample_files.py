"""The files of a sample: a blind workbook for each second marker who has work, and the key."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from marker.moderation.blind import write_blind, write_key
from marker.moderation.model import MarkSet
from marker.moderation.names import files_for
from marker.moderation.sampling import Drawn, Sample


def write_sample(
    output: Path, key: Path | None, sample: Sample, given: Mapping[str, Sequence[Drawn]], first: MarkSet, step: float
) -> tuple[list[Path], Path]:
    """Write all files; returns the workbooks and the key (beside them unless a place is given). Raises OutputError."""
    written = []
    for name, path in files_for(output, list(given)).items():
        if given[name]:
            write_blind(path, name, given[name], first, sample.draw, step)
            written.append(path)
    keyed = key or output.with_name(f"{output.stem}-key.xlsx")
    write_key(keyed, sample, given, first)
    return written, keyed
