"""Times as the store keeps them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta


def now(after: timedelta = timedelta()) -> str:
    """This moment, or one after it, as 2026-03-02T16:40:12.123456Z."""
    return (datetime.now(UTC) + after).isoformat(timespec="microseconds").replace("+00:00", "Z")


def local(moment: str) -> str:
    """A stored time as people here read it: 2 March 2026, 16:40."""
    try:
        then = datetime.fromisoformat(moment.replace("Z", "+00:00")).astimezone()
    except ValueError:
        return moment
    return f"{then.day} {then:%B %Y, %H:%M}"
