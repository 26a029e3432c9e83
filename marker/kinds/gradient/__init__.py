"""Parts that ask for the gradient of a straight line, and for what follows from it."""

from marker.kinds.gradient.mark import KIND

__all__ = ["KIND"]
