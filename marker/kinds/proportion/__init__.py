"""Parts in which a proportion is shown or tested with numbers: y ∝ x, 1/x, x², 1/x², √x, or a constant factor for equal steps.

What stays the same if the proportion holds (y/x, xy, y/x² …) must be worked out rightly for enough readings, and the
conclusion must agree with the numbers.
"""

from marker.kinds.proportion.mark import KIND

__all__ = ["KIND"]
