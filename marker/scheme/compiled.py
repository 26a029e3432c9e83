"""A calculation part made ready for marking: its quantities, its system of relationships, its goals and points."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from marker.expression import Dimensions, Number, Unit
from marker.physics.system import System
from marker.reading.model import SymbolTable
from marker.scheme.convention import Convention, FiguresWindow


def is_angle(unit: Unit) -> bool:
    """Degrees and radians; revolutions a minute and radians a second are not angles."""
    return bool(unit.dimensions[7]) and not any(unit.dimensions[:7])


@dataclass(frozen=True, slots=True, kw_only=True)
class Datum:
    """A value the question or the data sheet gives. `si` in SI units; `raw` the number as printed, in `unit`.

    others   further values of a constant that are accepted, in SI (g = 9.8 beside 9.81)
    """

    symbol: str
    text: str
    number: Number
    si: float
    raw: float
    unit: Unit | None = None
    constant: bool = False
    others: tuple[float, ...] = ()

    @property
    def needs_conversion(self) -> bool:
        """True when the printed number is not the SI value (64 mA, 6.5 min, 12 °C)."""
        return self.unit is not None and not is_angle(self.unit) and (self.unit.scale != 1.0 or self.unit.offset != 0.0)

    @property
    def has_power_of_ten(self) -> bool:
        """True when it is printed with a power of ten (2.40 × 10^5 Pa)."""
        text = self.number.text
        return ("10" in text and ("^" in text or "×" in text)) or "e" in text.lower()


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One marking point of a goal. `relations` are indexes into the system; `quantity` the value it is for.

    type    "C" seen or implied by the answer, "M" must be seen, "A" depends on the M points, "B" seen, stands alone
    needs   names of points of the goal it depends on;  accept  (low, high) in SI for a value point
    follow  own wrong values are followed;  isw  work after a right answer is ignored;  any  one of its relationships is enough
    """

    name: str
    kind: str
    marks: float
    type: str
    relations: frozenset[int] = frozenset()
    quantity: str = ""
    needs: tuple[str, ...] = ()
    accept: tuple[float, float] | None = None
    follow: bool = True
    isw: bool = False
    any: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Special:
    """A special case: an answer from a common wrong route, in SI with half a unit of its last place, and what it is worth."""

    value: float
    half: float
    marks: float
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """One thing to find.

    value    the right answer in SI;  accept  (low, high) in SI that the scheme names;  figures  of the least precise datum
    shown    the value of a "show that" in SI, None otherwise;  unit  the unit an answer is written in
    relations  indexes of the relationships its derivation uses
    fewest_figures  the fewest the least precise datum may have (200 may have one), 0 for as many as `figures`
    sensible  (low, high) in SI beyond which an own value may not be followed;  special  special cases
    """

    find: str
    value: float
    accept: tuple[float, float] | None
    figures: int
    shown: float | None
    shown_text: str
    unit: Unit | None
    points: tuple[Point, ...]
    relations: frozenset[int]
    label: str = ""
    shown_figures: int = 1
    fewest_figures: int = 0
    sensible: tuple[float, float] | None = None
    special: tuple[Special, ...] = ()

    def figures_allowed(self, window: FiguresWindow) -> tuple[int, int | None]:
        """(fewest, most) significant figures of an answer that the ruling allows; None for as many as one likes."""
        if window.reference == "least datum":
            fewest, most = self.fewest_figures or self.figures, self.figures
        else:
            fewest = most = window.fixed
        return fewest - window.under, None if window.over is None else most + window.over

    @property
    def maximum(self) -> float:
        return sum(p.marks for p in self.points)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CompiledCalculation:
    """Everything `mark_response` needs to know of a calculation part.

    dimensions  of every quantity, None where unknown;  carry  symbol -> (part, symbol there)
    helpers     relationships that carry no mark;  routes  the same part compiled for other methods
    sensible    (low, high) in SI of carried quantities, as their own parts name them;  shown  in SI, of those to be shown there
    carried_within  (low, high) in SI that the answer of its own part may have and be right
    anew        the same part with the ways to the values it carries, for when the parts before give none
    """

    name: str
    question: str
    marks: float
    convention: Convention
    table: SymbolTable
    system: System
    data: Mapping[str, Datum]
    goals: tuple[Goal, ...]
    carry: Mapping[str, tuple[str, str]]
    dimensions: Mapping[str, Dimensions | None]
    units: Mapping[str, Unit | None]
    angles: frozenset[str]
    helpers: frozenset[int]
    free: frozenset[str] = frozenset()
    signed: frozenset[str] = frozenset()
    either_sign: bool = False
    routes: tuple[CompiledCalculation, ...] = ()
    route_name: str = ""
    stem: str = ""
    sensible: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    shown: Mapping[str, float] = field(default_factory=dict)
    carried_within: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    anew: CompiledCalculation | None = None
