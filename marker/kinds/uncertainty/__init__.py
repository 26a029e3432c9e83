"""Parts that ask for the uncertainty of a result, of a reading or of a mean."""

from marker.kinds.uncertainty.mark import KIND

__all__ = ["KIND"]
