"""How the pages are served: one frozen value, made by the command and read everywhere."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Rates a person or address may keep up, per minute, and how many at once before the rate counts."""

    lines_a_minute: float = 40
    lines_at_once: int = 20
    draws_a_minute: float = 12
    draws_at_once: int = 8
    codes_a_minute: float = 5
    codes_at_once: int = 10
    newcomers_a_minute: float = 6
    newcomers_at_once: int = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """How the pages are served.

    department   everyone signs in with a one-time code; otherwise anyone at this machine may practise, and the teacher comes by the link
    https        the pages are reached over https, so that the session cookie is sent only there
    hosts        names the pages may be reached by;  teacher  the teacher's name in the record
    """

    department: bool = False
    https: bool = False
    hosts: tuple[str, ...] = ("127.0.0.1", "localhost")
    teacher: str = "Teacher"
    limits: Limits = Limits()
