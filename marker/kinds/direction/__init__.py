"""Parts that ask for directions: forces on charges and currents, fields round wires and coils, motion in circles, induced currents."""

from marker.kinds.base import Kind
from marker.kinds.direction.compiling import compile_direction
from marker.kinds.direction.marking import mark_direction, model_direction
from marker.kinds.direction.spec import DirectionSpec

KIND = Kind(name="direction", spec=DirectionSpec, compile=compile_direction, mark=mark_direction, model=model_direction)

__all__ = ["KIND"]
