"""The statistics libraries are an extra: loaded when figures are asked for, with a plain message when absent."""

from importlib.util import find_spec

from marker.errors import MarkerError, Problem

NEEDED = ("numpy", "pandas", "scipy")


def need_statistics() -> None:
    """Raises MarkerError when the moderation extra is not installed."""
    missing = [name for name in NEEDED if find_spec(name) is None]
    if missing:
        raise MarkerError(
            Problem(
                where="marker moderate",
                seen=f"the statistics need {' and '.join(missing)}, which this installation does not have",
                mend="Install them with: pip install 'marker[moderation]'",
            )
        )
