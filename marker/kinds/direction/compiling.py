"""From the scheme's keys to what marking needs: the derived answers, the part's own words, the marks of each direction."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from marker.errors import Problem, SchemeError
from marker.kinds.direction.combine import Setting, combined
from marker.kinds.direction.events import events
from marker.kinds.direction.lexicon import Lexicon, Meaning, base_lexicon, extended
from marker.kinds.direction.names import asked_quantities, name_phrases
from marker.kinds.direction.places import mutual_phrases, place_phrases, place_vectors
from marker.kinds.direction.plain import plain_phrase
from marker.kinds.direction.rules import GIVEN, RULES, SIGNS, Geometry, turn_seen_from
from marker.kinds.direction.spec import WAY_EXAMPLES, AskSpec, DirectionSpec, Way
from marker.kinds.direction.vectors import INWARD, ORIGIN, Direction, Vector, angle, named, pointing, reversed_direction, scaled, unit
from marker.scheme.convention import Convention

_NOTHING = frozenset({"at rest", "rest", "stationary", "none", "zero", "0", "no field", "not moving"})
_WAYS = ("velocity", "field", "current", "force", "centre", "at", "seen_from")


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One direction asked. `viewer` is the side a turn is looked at from, None for the usual one."""

    of: str
    expected: Direction
    rule: str
    quantity: str
    marks: float
    charge: str = ""
    viewer: Vector | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CompiledDirection:
    name: str
    marks: int
    asks: tuple[Asked, ...]
    each: bool
    frame: str
    within: float
    lexicon: Lexicon
    setting: Setting
    convention: Convention


def compile_direction(spec: DirectionSpec, convention: Convention) -> CompiledDirection:
    """Raises SchemeError naming the ask, the key and the mend."""
    convention = convention.with_rulings(spec.rulings)
    base = base_lexicon(spec.frame)
    problems: list[Problem] = []
    geometries = [_geometry(spec, index, ask, base, problems) for index, ask in enumerate(spec.ask)]
    places = place_vectors(spec, base, _way, problems)
    if problems:
        raise SchemeError(problems)
    setting = _setting(spec, geometries, base)
    own = [*place_phrases(places, base), *_in_circles(spec, setting), *name_phrases(spec.ask, base)]
    own += mutual_phrases(places, own, len(spec.ask), base)
    lexicon = extended(base, own, minus_names=any(p == ("-",) for p, _ in own))
    expected = [_expected(spec, index, ask, g, lexicon, setting) for index, (ask, g) in enumerate(zip(spec.ask, geometries, strict=True))]
    lexicon = extended(lexicon, _also(spec, expected, lexicon), lexicon.minus_names)
    each, worth = _worth(spec, convention)
    asks = tuple(
        Asked(
            of=ask.of, expected=direction, rule=ask.rule, quantity=RULES[ask.rule].asked if ask.rule in RULES else "direction", marks=worth,
            charge=ask.charge or "", viewer=_way(ask.seen_from, base) if ask.seen_from is not None else None,
        )
        for ask, direction in zip(spec.ask, expected, strict=True)
    )  # fmt: skip
    return CompiledDirection(
        name=spec.name,
        marks=spec.marks,
        asks=asks,
        each=each,
        frame=spec.frame,
        within=spec.within,
        lexicon=lexicon,
        setting=setting,
        convention=convention,
    )


def _where(spec: DirectionSpec, index: int, key: str) -> str:
    return f"part {spec.name}, ask {index + 1}, {key}"


def read_way(text: str, lexicon: Lexicon, setting: Setting | None = None) -> Direction | None:
    """The one direction a phrase of a scheme says; None when it says none, or several."""
    row = combined(events((text,), lexicon), setting or Setting(given={}, asked=frozenset()))
    found = {o for e in row if e.kind == "direction" and e.sign for o in e.options}
    plain = [e for e in row if e.kind == "direction"]
    if len(plain) == 2 and all(len(e.options) == 1 for e in plain):
        return _between(plain[0].options[0], plain[1].options[0])
    return next(iter(found)) if len(found) == 1 else None


def _between(a: Direction, b: Direction) -> Direction | None:
    if a.sort != "vector" or b.sort != "vector" or abs(angle(a.vector, b.vector) - 90.0) > 1.0:
        return a if a == b else None
    return pointing((a.vector[0] + b.vector[0], a.vector[1] + b.vector[1], a.vector[2] + b.vector[2]))


def _way(way: Way | None, lexicon: Lexicon) -> Vector | None:
    """A unit vector, zeros for nothing, None when it cannot be read."""
    if way is None:
        return None
    if isinstance(way, str):
        if way.strip().lower() in _NOTHING:
            return ORIGIN
        found = read_way(way, lexicon)
        return found.vector if found is not None and found.sort == "vector" and found.vector != ORIGIN else None
    return unit((float(way[0]), float(way[1]), float(way[2]))) if len(way) == 3 else None


def _geometry(spec: DirectionSpec, index: int, ask: AskSpec, lexicon: Lexicon, problems: list[Problem]) -> Geometry:
    vectors: dict[str, Vector | None] = {}
    for key in _WAYS:
        way = getattr(ask, key)
        vectors[key] = _way(way, lexicon)
        if way is not None and vectors[key] is None:
            problems.append(
                Problem(
                    where=_where(spec, index, key),
                    seen=f'"{way}" is not one direction',
                    expected=WAY_EXAMPLES,
                    mend="State one direction in the part's frame.",
                )
            )
    if ask.rule != GIVEN:
        _check_needs(spec, index, ask, problems)
    elif not ask.answer:
        problems.append(
            Problem(
                where=_where(spec, index, "answer"),
                seen='rule = "given" without an answer',
                mend='Add answer = "to the right", or name the rule it follows from.',
            )
        )
    viewer = vectors.pop("seen_from")
    return Geometry(
        **{k: v for k, v in vectors.items()},
        sense=None if ask.sense is None else turn_seen_from(ask.sense, viewer),
        charge=SIGNS[ask.charge or "positive"],
        flow=-1.0 if ask.charge_motion == "electron flow" else 1.0,
        change=ask.change or "steady",
        outside=ask.beside,
    )


def _check_needs(spec: DirectionSpec, index: int, ask: AskSpec, problems: list[Problem]) -> None:
    sets = RULES[ask.rule].needs
    if any(all(getattr(ask, key) is not None for key in needed) for needed in sets):
        return
    missing = [key for key in sets[0] if getattr(ask, key) is None]
    choices = " or ".join(" and ".join(needed) for needed in sets)
    problems.append(
        Problem(
            where=_where(spec, index, missing[0]),
            seen=f'rule "{ask.rule}" lacks {" and ".join(missing)}',
            expected=choices,
            mend=f"Add {missing[0]} = … to this ask.",
        )
    )


def _setting(spec: DirectionSpec, geometries: list[Geometry], lexicon: Lexicon) -> Setting:
    """What the whole part gives; a quantity two asks give differently is left out."""
    rules = [RULES[ask.rule].asked if ask.rule in RULES else "" for ask in spec.ask]
    given: dict[str, Vector] = {}
    for key in ("velocity", "field", "current", "force"):
        vectors = {v for g in geometries if (v := getattr(g, key)) is not None}
        if len(vectors) == 1:
            given[key] = next(iter(vectors))
    flows = {g.flow for g in geometries if g.current is not None}
    if "current" in given and flows == {-1.0}:
        given["electron_flow"] = given.pop("current")
    centres = {g.centre for g in geometries if g.centre is not None}
    derived: Mapping[str, Vector] = given
    centre = next(iter(centres)) if len(centres) == 1 else None
    for ask, g in zip(spec.ask, geometries, strict=True):
        if ask.rule == "towards the centre" and centre is None and len(centres) == 0:
            answer = RULES[ask.rule].derive(g)
            centre = answer.vector if answer.sort == "vector" else None
    return Setting(given=derived, asked=asked_quantities(spec.ask, rules, lexicon), centre=centre)


def _in_circles(spec: DirectionSpec, setting: Setting) -> list[tuple[tuple[str, ...], Meaning]]:
    """In a circle, "inwards" is towards the centre and not into the page; "straight on" is along the velocity and not "no force"."""
    rules = {ask.rule for ask in spec.ask}
    pairs: list[tuple[tuple[str, ...], Meaning]] = []
    if "towards the centre" in rules:
        inward = INWARD if setting.centre is None else pointing(setting.centre)
        pairs.append((("in",), Meaning(kind="bare", options=(inward,))))
        pairs.append((("out",), Meaning(kind="bare", options=(reversed_direction(inward),))))
    if "along the velocity" in rules:
        phrases = ("straight on", "straight ahead", "straight line", "in straight line")
        pairs += [(tuple(p.split()), Meaning(kind="relative", name="along_velocity")) for p in phrases]
    return pairs


def _expected(spec: DirectionSpec, index: int, ask: AskSpec, geometry: Geometry, lexicon: Lexicon, setting: Setting) -> Direction:
    typed = read_way(ask.answer, lexicon, setting) if ask.answer else None
    if ask.answer and typed is None:
        raise SchemeError(
            Problem(
                where=_where(spec, index, "answer"),
                seen=f'"{ask.answer}" is not one direction',
                expected=WAY_EXAMPLES,
                mend="Say the direction in the part's frame, or add the thing it points to under places.",
            )
        )
    viewer = _way(ask.seen_from, lexicon)
    if typed is not None and typed.sort == "turn" and typed.viewed is None and viewer is not None:
        typed = Direction(sort="turn", vector=scaled(viewer, 1.0 if typed.vector[2] > 0 else -1.0), viewed=viewer)
    if ask.rule == GIVEN:
        assert typed is not None  # _geometry has refused an ask without an answer
        return typed
    derived = RULES[ask.rule].derive(geometry)
    if derived.sort == "turn":
        derived = replace(derived, viewed=viewer)
    if typed is not None and not agrees(derived, typed, spec.within):
        raise SchemeError(
            Problem(
                where=_where(spec, index, "answer"), seen=f'"{ask.answer}" is not what the rule gives', expected=named(derived, spec.frame),
                mend="Check the geometry (velocity, field, charge, charge_motion) or the answer.",
            )
        )  # fmt: skip
    return derived


def agrees(expected: Direction, said: Direction, within: float) -> bool | None:
    """True, False, or None when the two cannot be compared: another sort of answer, a turn without a viewer, or too coarse."""
    if said.sort == "vector" and said.vector == ORIGIN:
        return False
    if expected.sort != said.sort:
        return False if "zero" in (expected.sort, said.sort) else None
    if expected.sort == "zero":
        return True
    apart = angle(expected.vector, said.vector)
    if said.sort == "turn" and said.viewed is None and abs(expected.vector[2]) < 0.99:
        return None
    if apart <= within:
        return True
    return None if said.coarse and apart < 40.0 else False


def _also(spec: DirectionSpec, expected: list[Direction], lexicon: Lexicon) -> list[tuple[tuple[str, ...], Meaning]]:
    found: dict[tuple[str, ...], Direction] = {}
    for index, (ask, direction) in enumerate(zip(spec.ask, expected, strict=True)):
        for phrase in ask.also:
            words = plain_phrase(phrase, lexicon)
            if not words or found.get(words, direction) != direction:
                raise SchemeError(
                    Problem(
                        where=_where(spec, index, "also"),
                        seen=f'"{phrase}" would stand for two directions',
                        mend="Word it so that it tells them apart.",
                    )
                )
            found[words] = direction
    return [(words, Meaning(kind="direction", options=(direction,))) for words, direction in found.items()]


def _worth(spec: DirectionSpec, convention: Convention) -> tuple[bool, float]:
    """(each direction has its own mark, what one is worth)."""
    asks = len(spec.ask)
    points = spec.points or ("all" if spec.marks == 1 or asks == 1 else "each" if spec.marks == asks else None)
    if points is None:
        raise SchemeError(
            Problem(
                where=f"part {spec.name}, points",
                seen=f"{spec.marks} marks for {asks} directions",
                expected='points = "all" or "each"',
                mend="Say whether every direction must be right, or each has its share.",
            )
        )
    if points == "all":
        return False, float(spec.marks)
    worth = spec.marks / asks
    if worth != int(worth) and not (convention.half_marks and (2 * worth) == int(2 * worth)):
        raise SchemeError(
            Problem(
                where=f"part {spec.name}, points",
                seen=f"{spec.marks} marks cannot be shared among {asks} directions",
                expected="a whole mark each",
                mend='Change marks, or use points = "all".',
            )
        )
    return True, worth
