"""Parts that several direction tests share. Geometry of our own invention."""

from typing import Any

from marker.kinds.direction import KIND
from marker.scheme.convention import Convention


def part(*asks: dict[str, Any], marks: int = 1, convention: Convention | None = None, **keys: Any) -> Any:
    """A compiled direction part."""
    spec = KIND.spec.model_validate({"name": "1", "kind": "direction", "marks": marks, "ask": list(asks), **keys})
    return KIND.compile(spec, convention or Convention())


def given(answer: str, of: str = "force on the wire", **keys: Any) -> Any:
    return part({"of": of, "rule": "given", "answer": answer}, **keys)


def moving(charge: str, of: str) -> dict[str, Any]:
    """A charge that moves up the page in a field out of the page: positive right, negative left."""
    return {"of": of, "rule": "force on a charge", "charge": charge, "velocity": "up the page", "field": "out of the page"}


ION, ELECTRON = moving("positive", "force on the positive ion"), moving("negative", "force on the electron")
PARTS = {
    "ion and electron": part(ION, ELECTRON),
    "one mark each": part(ION, ELECTRON, marks=2),
    "both turned": part(
        {"of": "force on the wire", "rule": "force on a current", "current": "left", "field": "into the page"},
        {"of": "force when both are turned round", "rule": "force on a current", "current": "right", "field": "out of the page"},
    ),
    "electron": part(ELECTRON),
    "wire": part({"of": "force on the wire", "rule": "force on a current", "current": "left", "field": "into the page"}),
    "wire along the field": part({"of": "force on the wire", "rule": "force on a current", "current": "left", "field": "left"}),
    "plan": part({"of": "force on the wire", "rule": "force on a current", "current": "east", "field": "north"}, frame="compass"),
    "plates": part({"of": "force on the electron", "rule": "force in an electric field", "charge": "negative", "field": "down the page"}),
    "magnet": given("towards the magnet", places={"the magnet": "left", "magnet's north pole": "left"}),
    "north-east": given("north-east", of="direction of the resultant force", frame="compass"),
    "diagonal": given("up and to the right", of="resultant force"),
    "circle": part({"of": "centripetal force", "rule": "towards the centre"}),
    "circle, left": part({"of": "centripetal force", "rule": "towards the centre", "velocity": "up the page", "sense": "anticlockwise"}),
    "string breaks": part({"of": "velocity when the string breaks", "rule": "along the velocity", "velocity": "up the page"}),
    "loop": part(
        {"of": "induced current in the loop", "rule": "induced current in a loop", "field": "into the page", "change": "increasing"}
    ),
    "rod": part({"of": "induced current in the rod", "rule": "induced current in a wire", "velocity": "right", "field": "into the page"}),
    "round a wire": part({"of": "magnetic field around the wire", "rule": "field of a straight wire", "current": "into the page"}),
    "round a wire, from above": part(
        {"of": "magnetic field around the wire", "rule": "field of a straight wire", "current": "up the page", "seen_from": "up the page"}
    ),
    "round a wire, no view": part({"of": "magnetic field around the wire", "rule": "field of a straight wire", "current": "up the page"}),
    "beside a wire": part({"of": "magnetic field at P", "rule": "field of a straight wire", "current": "up the page", "at": "right"}),
    "in a coil": part({"of": "magnetic field inside the coil", "rule": "field of a coil", "sense": "clockwise"}),
    "electron flow": part(
        {
            "of": "force on the wire",
            "rule": "force on a current",
            "current": "left",
            "field": "into the page",
            "charge_motion": "electron flow",
        }
    ),
    "proton": part(
        {"of": "force on the proton", "rule": "force on a charge", "charge": "positive", "velocity": "right", "field": "into the page"}
    ),
    "three radiations": part(
        *(
            {"of": of, "names": names, "rule": "force on a charge", "charge": charge, "velocity": "right", "field": "into the page"}
            for of, names, charge in (
                ("deflection of the alpha particles", ["alpha", "α"], "positive"),
                ("deflection of the beta particles", ["beta", "β"], "negative"),
                ("deflection of the gamma rays", ["gamma", "γ"], "neutral"),
            )
        ),
        marks=3,
    ),
    "sides of a coil": part(
        {"of": "force on side AB", "names": ["AB"], "rule": "force on a current", "current": "up", "field": "right"},
        {"of": "force on side CD", "names": ["CD"], "rule": "force on a current", "current": "down", "field": "right"},
        marks=2,
    ),
    "rod on rails": part(
        {"of": "force on the rod", "names": ["rod"], "rule": "force on a current", "current": "into the page", "field": "right"}
    ),
    "satellite": part({"of": "force on the satellite", "rule": "towards the centre", "centre": "down"}, places={"the Earth": "down"}),
    "two wires": part(
        {"of": "force on wire X", "names": ["X"], "rule": "given", "answer": "towards Y"},
        {"of": "force on wire Y", "names": ["Y"], "rule": "given", "answer": "towards X"},
        places={"Y": "right", "X": "left"},
    ),
    "three": part(
        {"of": "force on P", "rule": "given", "answer": "left"},
        {"of": "force on Q", "rule": "given", "answer": "right"},
        {"of": "force on R", "rule": "given", "answer": "into the page"},
        marks=3,
    ),
    "velocity and acceleration": part(
        {"of": "velocity of the ball", "rule": "along the velocity", "velocity": "up the page"},
        {"of": "acceleration of the ball", "rule": "towards the centre", "centre": "left"},
        marks=2,
    ),
}
