"""The answer to each asked direction, from the geometry the scheme gives.

Every rule is a plain function from the given vectors to a Direction; RULES says which keys each needs. Zero comes out by itself:
a charge moving along the field gives a cross product of nothing.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from marker.kinds.direction.vectors import (
    AXES,
    INWARD,
    ORIGIN,
    TANGENT,
    ZERO,
    Direction,
    Vector,
    cross,
    dot,
    pointing,
    scaled,
    turning,
    unit,
)

SIGNS: Mapping[str, float] = {"positive": 1.0, "negative": -1.0, "neutral": 0.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Geometry:
    """What the question gives: unit vectors (zeros for "at rest" or no field), None where a key is absent.

    charge  +1, -1 or 0;  flow  +1 for conventional current, -1 for electron flow
    sense   a turn, as the vector along its axis;  change  "increasing", "decreasing", "steady" or "reversed"
    """

    velocity: Vector | None = None
    field: Vector | None = None
    current: Vector | None = None
    force: Vector | None = None
    centre: Vector | None = None
    at: Vector | None = None
    sense: Vector | None = None
    charge: float = 1.0
    flow: float = 1.0
    change: str = "steady"
    outside: bool = False


def force_on_charge(g: Geometry) -> Direction:
    """F = qv × B."""
    return _pointing(scaled(cross(_of(g.velocity), _of(g.field)), g.charge))


def force_on_current(g: Geometry) -> Direction:
    """F = IL × B, I conventional."""
    return _pointing(scaled(cross(_of(g.current), _of(g.field)), g.flow))


def field_of_wire(g: Geometry) -> Direction:
    """Circles round the wire by the right-hand grip rule; at a place beside the wire (`at`, from the wire), I × r."""
    current = scaled(_of(g.current), g.flow)
    if g.at is None:
        return ZERO if unit(current) == ORIGIN else turning(current)
    return _pointing(cross(current, g.at))


def field_of_coil(g: Geometry) -> Direction:
    """Along the axis inside the coil, by the grip rule; the other way beside a flat coil."""
    inside = scaled(_of(g.sense), g.flow)
    return _pointing(scaled(inside, -1.0 if g.outside else 1.0))


def force_in_electric_field(g: Geometry) -> Direction:
    """F = qE: along the field for a positive charge."""
    return _pointing(scaled(_of(g.field), g.charge))


def force_in_gravitational_field(g: Geometry) -> Direction:
    """F = mg: along the field."""
    return _pointing(_of(g.field))


def towards_centre(g: Geometry) -> Direction:
    """Centripetal force and acceleration: given, or a quarter turn from the velocity in the sense of turning; else only "inward"."""
    if g.centre is not None:
        return _pointing(g.centre)
    if g.velocity is None or g.sense is None:
        return INWARD
    return _pointing(cross(_of(g.sense), _of(g.velocity)))


def along_velocity(g: Geometry) -> Direction:
    """The tangent: given, or from the place of the centre and the sense of turning, v = ω × r."""
    if g.velocity is not None:
        return _pointing(g.velocity)
    if g.centre is None or g.sense is None:
        return TANGENT
    return _pointing(cross(_of(g.sense), scaled(_of(g.centre), -1.0)))


def induced_in_wire(g: Geometry) -> Direction:
    """Conventional current driven in a wire that cuts a field: v × B on the positive charges."""
    return _pointing(scaled(cross(_of(g.velocity), _of(g.field)), g.flow))


def induced_in_loop(g: Geometry) -> Direction:
    """Lenz: the current's own field is against an increase, with a decrease, and with the old field when it is reversed."""
    sign = {"increasing": -1.0, "decreasing": 1.0, "reversed": 1.0, "steady": 0.0}[g.change]
    axis = scaled(_of(g.field), sign * g.flow)
    return ZERO if unit(axis) == ORIGIN else turning(axis)


def field_from_force(g: Geometry) -> Direction:
    """The field at right angles to the motion that gives this force: B along F × v for a positive charge, F × I for a current."""
    moving, sign = (g.current, g.flow) if g.current is not None else (g.velocity, g.charge)
    return _pointing(scaled(cross(_of(g.force), _of(moving)), sign))


def current_from_force(g: Geometry) -> Direction:
    """The current at right angles to the field that gives this force: I along B × F."""
    return _pointing(scaled(cross(_of(g.field), _of(g.force)), g.flow))


def velocity_from_force(g: Geometry) -> Direction:
    """The motion at right angles to the field that gives this force: v along B × F, reversed for a negative charge."""
    return _pointing(scaled(cross(_of(g.field), _of(g.force)), g.charge))


def _of(vector: Vector | None) -> Vector:
    return ORIGIN if vector is None else vector


def _pointing(vector: Vector) -> Direction:
    # unit vectors that are parallel but for rounding give a product of 1e-17, which has no direction
    return ZERO if dot(vector, vector) < 1e-12 else pointing(vector)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """needs   sets of keys, of which the ask must have one whole
    asked   the quantity whose direction is asked ("force"), as grammars/directions.toml names it
    """

    derive: Callable[[Geometry], Direction]
    needs: tuple[tuple[str, ...], ...]
    asked: str


RULES: Mapping[str, Rule] = {
    "force on a charge": Rule(derive=force_on_charge, needs=(("charge", "velocity", "field"),), asked="force"),
    "force on a current": Rule(derive=force_on_current, needs=(("current", "field"),), asked="force"),
    "field of a straight wire": Rule(derive=field_of_wire, needs=(("current",),), asked="field"),
    "field of a coil": Rule(derive=field_of_coil, needs=(("sense",),), asked="field"),
    "force in an electric field": Rule(derive=force_in_electric_field, needs=(("charge", "field"),), asked="force"),
    "force in a gravitational field": Rule(derive=force_in_gravitational_field, needs=(("field",),), asked="force"),
    "towards the centre": Rule(derive=towards_centre, needs=(("centre",), ("velocity", "sense"), ()), asked="force"),
    "along the velocity": Rule(derive=along_velocity, needs=(("velocity",), ("centre", "sense"), ()), asked="velocity"),
    "induced current in a wire": Rule(derive=induced_in_wire, needs=(("velocity", "field"),), asked="current"),
    "induced current in a loop": Rule(derive=induced_in_loop, needs=(("field", "change"),), asked="current"),
    "field from the force": Rule(derive=field_from_force, needs=(("force", "current"), ("force", "charge", "velocity")), asked="field"),
    "current from the force": Rule(derive=current_from_force, needs=(("force", "field"),), asked="current"),
    "velocity from the force": Rule(derive=velocity_from_force, needs=(("force", "field", "charge"),), asked="velocity"),
}
GIVEN = "given"


def turn_seen_from(sense: str, viewer: Vector | None) -> Vector:
    """The axis of "clockwise" or "anticlockwise" for a viewer who looks from that side (from +z when none is named)."""
    axis = viewer or AXES["z"]
    return axis if sense == "anticlockwise" else scaled(axis, -1.0)
