"""One step of bringing a store up to date."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sqlalchemy import Connection


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """Runs inside the transaction of all steps; raises what the database raises, and then nothing is changed."""

    number: int
    title: str
    run: Callable[[Connection], None]
