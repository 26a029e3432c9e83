"""Directions as unit vectors, and what each frame calls them.

The page frame: +x to the right, +y up the page, +z out of the page. The compass frame: +x east, +y north, +z vertically up.
A turn ("clockwise") is kept as the vector along its axis by the right-hand grip rule: anticlockwise as seen from +z is +z.
"""

from dataclasses import dataclass
from math import acos, cos, degrees, radians, sin, sqrt
from typing import Literal

Vector = tuple[float, float, float]
Frame = Literal["page", "compass"]
Sort = Literal["vector", "turn", "zero", "radial", "tangent"]

ORIGIN: Vector = (0.0, 0.0, 0.0)
AXES: dict[str, Vector] = {"x": (1.0, 0.0, 0.0), "y": (0.0, 1.0, 0.0), "z": (0.0, 0.0, 1.0)}

_ROOT = sqrt(0.5)
_SHARED: dict[str, Vector] = {
    "left": (-1, 0, 0), "right": (1, 0, 0), "page_up": (0, 1, 0), "page_down": (0, -1, 0), "in": (0, 0, -1), "out": (0, 0, 1),
    "north": (0, 1, 0), "south": (0, -1, 0), "east": (1, 0, 0), "west": (-1, 0, 0),
    "northeast": (_ROOT, _ROOT, 0), "northwest": (-_ROOT, _ROOT, 0), "southeast": (_ROOT, -_ROOT, 0), "southwest": (-_ROOT, -_ROOT, 0),
    "up_left": (-_ROOT, _ROOT, 0), "up_right": (_ROOT, _ROOT, 0), "down_left": (-_ROOT, -_ROOT, 0), "down_right": (_ROOT, -_ROOT, 0),
}  # fmt: skip
FRAMES: dict[str, dict[str, Vector]] = {
    "page": {**_SHARED, "up": (0, 1, 0), "down": (0, -1, 0)},
    "compass": {**_SHARED, "up": (0, 0, 1), "down": (0, 0, -1)},
}
_NAMES: dict[str, tuple[tuple[Vector, str], ...]] = {
    "page": (
        ((1, 0, 0), "to the right"), ((-1, 0, 0), "to the left"), ((0, 1, 0), "up the page"), ((0, -1, 0), "down the page"),
        ((0, 0, 1), "out of the page"), ((0, 0, -1), "into the page"), ((_ROOT, _ROOT, 0), "up and to the right"),
        ((-_ROOT, _ROOT, 0), "up and to the left"), ((_ROOT, -_ROOT, 0), "down and to the right"),
        ((-_ROOT, -_ROOT, 0), "down and to the left"),
    ),
    "compass": (
        ((1, 0, 0), "east"), ((-1, 0, 0), "west"), ((0, 1, 0), "north"), ((0, -1, 0), "south"), ((0, 0, 1), "vertically up"),
        ((0, 0, -1), "vertically down"), ((_ROOT, _ROOT, 0), "north-east"), ((-_ROOT, _ROOT, 0), "north-west"),
        ((_ROOT, -_ROOT, 0), "south-east"), ((-_ROOT, -_ROOT, 0), "south-west"),
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Direction:
    """One direction, a sense of turning, or none.

    sort    "radial" and "tangent" are kept for circles of which the scheme gives no vectors: (1, 0, 0) is inward, and along the motion
    vector  unit vector; along the axis for a turn; zeros for "zero" (no force, no direction)
    viewed  for a turn: the axis towards the viewer it was said for, None when no view was named
    coarse  said by halves ("up and to the right"), so good to some 40° only
    """

    sort: Sort = "vector"
    vector: Vector = ORIGIN
    viewed: Vector | None = None
    coarse: bool = False


ZERO = Direction(sort="zero")
INWARD = Direction(sort="radial", vector=(1.0, 0.0, 0.0))
TANGENT = Direction(sort="tangent", vector=(1.0, 0.0, 0.0))


def unit(vector: Vector) -> Vector:
    """The vector at length 1; zeros stay zeros."""
    size = sqrt(dot(vector, vector))
    if size < 1e-9:
        return ORIGIN
    return (vector[0] / size, vector[1] / size, vector[2] / size)


def dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def scaled(a: Vector, by: float) -> Vector:
    return (a[0] * by, a[1] * by, a[2] * by)


def added(a: Vector, b: Vector) -> Vector:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def angle(a: Vector, b: Vector) -> float:
    """Degrees between two unit vectors, 0 to 180."""
    return degrees(acos(max(-1.0, min(1.0, dot(a, b)))))


def pointing(vector: Vector) -> Direction:
    """The direction of a vector of any length; ZERO for none."""
    here = unit(vector)
    return ZERO if here == ORIGIN else Direction(vector=here)


def turning(axis: Vector, viewed: Vector | None = None) -> Direction:
    """The turn about an axis, anticlockwise as seen from its tip."""
    return Direction(sort="turn", vector=unit(axis), viewed=viewed)


def reversed_direction(direction: Direction) -> Direction:
    x, y, z = direction.vector
    return Direction(sort=direction.sort, vector=(0.0 - x, 0.0 - y, 0.0 - z), viewed=direction.viewed, coarse=direction.coarse)


def bearing(angle_degrees: float) -> Direction:
    """A compass bearing: degrees clockwise from north (page: from up the page), seen from above."""
    return pointing((sin(radians(angle_degrees)), cos(radians(angle_degrees)), 0.0))


def leaning(start: Vector, towards: Vector, by: float) -> Direction:
    """`start` turned by some degrees towards `towards`: 30° north of east is leaning(east, north, 30)."""
    return pointing(added(scaled(start, cos(radians(by))), scaled(towards, sin(radians(by)))))


def named(direction: Direction, frame: str) -> str:
    """What a teacher would call it: "up the page", "30° north of east", "clockwise seen from above". It reads back as the same."""
    if direction.sort == "zero":
        return "zero (no direction)"
    if direction.sort == "turn":
        return _named_turn(direction, frame)
    if direction.sort == "radial":
        return "towards the centre" if direction.vector[0] > 0 else "away from the centre"
    if direction.sort == "tangent":
        return "along the tangent, forwards" if direction.vector[0] > 0 else "backwards along the tangent"
    for vector, name in _NAMES[frame]:
        if angle(vector, direction.vector) < 1.0:
            return name
    return _named_between(direction.vector, frame)


def _named_between(vector: Vector, frame: str) -> str:
    """ "30° north of east" in the plane of two axes, else the vector itself."""
    near = sorted(_NAMES[frame][:6], key=lambda pair: -dot(pair[0], vector))[:2]
    if abs(dot(near[0][0], vector) ** 2 + dot(near[1][0], vector) ** 2 - 1.0) > 1e-3:
        return "(" + ", ".join(f"{v:.2f}" for v in vector) + ")"
    away = angle(near[0][0], vector)
    return f"{away:.0f}° {_SHORT.get(near[1][1], near[1][1])} {'of' if frame == 'compass' else 'from'} {_SHORT.get(near[0][1], near[0][1])}"


_SHORT = {"to the right": "right", "to the left": "left"}


def _named_turn(direction: Direction, frame: str) -> str:
    viewer = direction.viewed or AXES["z"]
    if abs(dot(viewer, direction.vector)) < 0.9:
        viewer = direction.vector
    sense = "anticlockwise" if dot(viewer, direction.vector) > 0 else "clockwise"
    if angle(viewer, AXES["z"]) < 1.0:
        return sense
    if angle(viewer, scaled(AXES["z"], -1.0)) < 1.0:
        return f"{sense} seen from {'below' if frame == 'compass' else 'behind the page'}"
    place = {"to the right": "the right", "to the left": "the left", "up the page": "above", "down the page": "below"}
    name = named(pointing(viewer), frame)
    return f"{sense} seen from {place.get(name, 'the ' + name)}"
