"""A calculation part of a scheme file made ready for marking."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from marker.errors import Problem, SchemeError
from marker.expression import NO_DIMENSIONS, Dimensions, Negative, Symbol, Unit, put, symbols
from marker.physics.evaluate import Unknown, Value, evaluate
from marker.physics.system import Relation, System, Unsolvable, solved_system
from marker.physics.units import parse_unit
from marker.reading import read_quantity, read_relation
from marker.reading.model import SymbolEntry, SymbolTable
from marker.reading.writing import write_plain
from marker.reading import Quantity
from marker.scheme.calculation import CalculationPart, PointSpec, SpecialSpec, StepSpec
from marker.scheme.compiled import CompiledCalculation, Datum, Goal, Point, is_angle, Special
from marker.scheme.convention import Convention
from marker.scheme.lexicon import constants, kinds_of
from marker.scheme.points import default_points, with_dependence
from marker.scheme.sheets import by_name

DataSheet = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What a part needs of its paper: the data sheet's constants, and the quantities of earlier parts that may be carried.

    data      symbol -> accepted values, the first of which the answers are worked out with
    carried   "part.symbol" -> (value in SI, unit, dimensions, figures)
    """

    data: DataSheet
    carried: Mapping[str, Carryable]


@dataclass(frozen=True, slots=True, kw_only=True)
class Carryable:
    value: float
    unit: Unit | None
    dimensions: Dimensions | None
    figures: int
    sensible: tuple[float, float] | None = None


def compile_calculation(spec: CalculationPart, convention: Convention, around: Surroundings) -> CompiledCalculation:
    """Solves, checks and completes a calculation part. Raises SchemeError with every problem's key and mend."""
    where = f"part {spec.name}"
    main = _compile_route(spec, convention, around, where, spec.using, spec.also, None)
    routes = []
    for number, route in enumerate(spec.route, 1):
        label = route.name or f"route {number}"
        compiled = _compile_route(spec, convention, around, f"{where}, {label}", route.using, [*spec.also, *route.also], route.points or None)
        routes.append(replace(compiled, route_name=label))
    negative = [n for n, d in main.data.items() if d.si < 0 and not (d.unit is not None and d.unit.offset)]
    if negative and not spec.either_sign:
        routes.extend(replace(turned, route_name="magnitudes") for turned in _other_sign(spec, convention, around, where, negative))
    if spec.either_sign:
        routes.extend(replace(turned, route_name="the other sign") for turned in _other_sign(spec, convention, around, where))
    return replace(main, routes=tuple(routes))


def _other_sign(
    spec: CalculationPart, convention: Convention, around: Surroundings, where: str, turned_round: Sequence[str] = ()
) -> list[CompiledCalculation]:
    """The part with some quantities counted the other way: a deceleration for an acceleration, a speed for a velocity."""
    signed = turned_round or spec.signed or [s.find for s in spec.steps()]
    turn = {n: Negative(inner=Symbol(name=n, known=True)) for n in signed}

    def turned(relation: Relation) -> Relation:
        return replace(relation, left=put(relation.left, turn), right=put(relation.right, turn))

    def answers(step: StepSpec) -> StepSpec:
        if step.find not in signed:
            return step
        return step.model_copy(update={"accept": [_negated(t) for t in step.accept], "answer": _negated(step.answer), "show": _negated(step.show)})

    steps = [answers(s) for s in spec.steps()]
    changes: dict[str, object] = {"either_sign": False, "given": {n: _negated(t) if n in signed else t for n, t in spec.given.items()}}
    if spec.step:
        changes["step"] = steps
    else:
        changes.update({"accept": steps[0].accept, "answer": steps[0].answer, "show": steps[0].show})
    other = spec.model_copy(update=changes)
    carried = {k: replace(c, value=-c.value) if _is_signed(k, spec, signed) else c for k, c in around.carried.items()}
    return [_compile_route(other, convention, replace(around, carried=carried), where, spec.using, spec.also, None, turned)]


def _is_signed(key: str, spec: CalculationPart, signed: Sequence[str]) -> bool:
    return any(f"{_source(source, s)[0]}.{_source(source, s)[1]}" == key and s in signed for s, source in spec.carry.items())


def _negated(text: str) -> str:
    if not text:
        return text
    return text[1:].strip() if text.startswith(("-", "−")) else f"-{text}"


def _compile_route(
    spec: CalculationPart,
    convention: Convention,
    around: Surroundings,
    where: str,
    using: Sequence[str],
    also: Sequence[str],
    points: Sequence[PointSpec] | None,
    change: Callable[[Relation], Relation] = lambda r: r,
) -> CompiledCalculation:
    steps = spec.steps()
    texts = [*using, *(u for s in steps for u in s.using)]
    if not texts:
        raise _problem(where, "using", "no relationship is named", "at least one equation", 'Write for example using = ["V = I*R"].')
    letters = _letters(spec, texts, also)
    table = SymbolTable(tuple(SymbolEntry(name=n, angle=_is_angle_text(spec.given.get(n, ""))) for n in letters))
    relations = [_relation(t, table, where, "using") for t in texts] + [_relation(t, table, where, "also", True) for t in also]
    relations = [change(r) for r in relations]
    data = _data(spec, relations, around, texts + list(also), convention, where)
    carried = _carried(spec, around, where)
    angles = frozenset(s for s, d in data.items() if d.unit is not None and is_angle(d.unit)) | _angles_inside(relations)
    system, free = _system(spec, steps, relations, data, carried, angles, where)
    dimensions = _dimensions(system, data, carried, angles)
    helpers = frozenset(range(len(texts), len(relations)))
    units = {n: data[n].unit if n in data else None for n in system.base}
    goals = tuple(_goal(spec, s, system, data, carried, helpers, convention, dimensions, angles, where, points) for s in steps)
    units.update({g.find: g.unit for g in goals})
    _check_marks(spec, goals, where)
    return CompiledCalculation(
        name=spec.name,
        question=spec.question or _question(spec.name),
        marks=float(spec.marks),
        convention=convention,
        table=_table(spec, system, data, dimensions, angles, units),
        system=system,
        data=data,
        goals=goals,
        carry={s: _source(v, s) for s, v in spec.carry.items()},
        dimensions=dimensions,
        units=units,
        angles=angles,
        helpers=helpers,
        free=free,
        signed=frozenset(spec.signed),
        stem=spec.stem,
        sensible={s: c.sensible for s, c in carried.items() if c.sensible is not None},
    )


def _problem(where: str, key: str, seen: str, expected: str = "", mend: str = "") -> SchemeError:
    return SchemeError(Problem(where=f"{where}, {key}", seen=seen, expected=expected, mend=mend))


# --- letters, relationships and data ----------------------------------------------------------------


def _letters(spec: CalculationPart, using: Iterable[str], also: Iterable[str]) -> tuple[str, ...]:
    """The part's own symbols: given, carried, sought, and any word of more than one letter in its equations."""
    names = [*spec.given, *spec.carry, *spec.names, *(s.find for s in spec.steps())]
    for text in (*using, *also):
        row = by_name().get(text.casefold())
        if row is not None:
            names.extend((*row.quantities, *row.constants))
        elif "=" in text:
            names.extend(w for w in _WORD.findall(text) if w not in _FUNCTIONS)
    return tuple(dict.fromkeys(n for n in names if n and n not in ("pi", "π")))


_WORD = re.compile(r"[^\W\d][\w']*")
_FUNCTIONS = frozenset({"sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "ln", "log", "log10", "exp", "pi", "arcsin", "arccos", "arctan"})


def _relation(text: str, table: SymbolTable, where: str, key: str, helper: bool = False) -> Relation:
    row = by_name().get(text.casefold())
    equation = row.equation if row is not None else text
    if row is None and "=" not in text:
        near = get_close_matches(text.casefold(), by_name(), n=3)
        mend = f"Did you mean {' or '.join(repr(n) for n in near)}?" if near else 'Write it as an equation, such as "V = I*R".'
        raise _problem(where, key, f"{text!r} is neither an equation nor a relationship of the sheets", mend=mend)
    try:
        reading = read_relation(equation, table)
    except ValueError as error:
        raise _problem(where, key, f"{text!r} could not be read: {error}", mend="Write products with * and powers with ^.") from error
    if len(reading.sides) != 2:
        raise _problem(where, key, f"{text!r} has {len(reading.sides)} sides", "one equals sign")
    left, right = reading.sides
    shown = f"{write_plain(left)} = {write_plain(right)}"
    return Relation(name=equation if row is None else row.equation, left=left, right=right, helper=helper, shown=shown)


def _data(
    spec: CalculationPart, relations: Sequence[Relation], around: Surroundings, texts: Sequence[str], convention: Convention, where: str
) -> dict[str, Datum]:
    data = {symbol: _datum(symbol, text, where) for symbol, text in spec.given.items()}
    needed = frozenset[str]().union(*(r.letters for r in relations)) - data.keys() - spec.carry.keys()
    sought = {s.find for s in spec.steps()}
    for symbol in sorted(needed - sought):
        values = around.data.get(symbol) or _library_constant(symbol, texts, convention)
        if values is not None:
            data[symbol] = _constant(symbol, values, where)
    return data


def _library_constant(symbol: str, texts: Sequence[str], convention: Convention) -> tuple[str, ...] | None:
    """A constant the paper's data sheet does not list: those whose letter means nothing else, or that a named relationship uses."""
    rows = [row for t in texts if (row := by_name().get(t.casefold())) is not None]
    if symbol not in _UNMISTAKABLE and not any(symbol in row.constants for row in rows):
        return None
    if symbol == "g":
        return tuple(f"{v} N/kg" for v in reversed(convention.g_values))
    found = next((c for c in constants() if c.symbol == symbol), None)
    return None if found is None else tuple(f"{v} {found.unit}" for v in found.values)


_UNMISTAKABLE = frozenset({"g", "G", "h", "ħ", "N_A", "σ", "ε_0", "μ_0", "m_e", "m_p"})


def _datum(symbol: str, text: str, where: str) -> Datum:
    try:
        quantity: Quantity = read_quantity(text)
    except ValueError as error:
        raise _problem(where, f"given.{symbol}", f"{text!r} is not a quantity: {error}", 'a number with a unit, such as "64 mA"') from error
    return Datum(symbol=symbol, text=text, number=quantity.number, si=quantity.si, raw=quantity.number.value, unit=quantity.unit)


def _constant(symbol: str, values: tuple[str, ...], where: str) -> Datum:
    first, *others = (_datum(symbol, v, where) for v in values)
    return replace(first, constant=True, others=tuple(o.si for o in others))


def _carried(spec: CalculationPart, around: Surroundings, where: str) -> dict[str, Carryable]:
    out = {}
    for symbol, source in spec.carry.items():
        part, name = _source(source, symbol)
        found = around.carried.get(f"{part}.{name}")
        if found is None:
            known = ", ".join(sorted(around.carried)) or "none so far"
            raise _problem(where, f"carry.{symbol}", f"{source!r} is not a value of an earlier part", f"one of: {known}", "Parts come in order.")
        out[symbol] = found
    return out


def _source(text: str, symbol: str) -> tuple[str, str]:
    part, _, name = text.partition(".")
    return part.strip(), (name or symbol).strip()


def _is_angle_text(text: str) -> bool:
    return "°" in text or "deg" in text or text.rstrip().endswith("rad")


def _angles_inside(relations: Sequence[Relation]) -> frozenset[str]:
    """Letters that stand alone inside sin, cos or tan."""
    from marker.expression import Call, walk

    found = set()
    for relation in relations:
        for node in (*walk(relation.left), *walk(relation.right)):
            if isinstance(node, Call) and node.function in ("sin", "cos", "tan") and isinstance(node.inner, Symbol):
                found.add(node.inner.name)
    return frozenset(found)


# --- solving ----------------------------------------------------------------------------------------


def _system(
    spec: CalculationPart,
    steps: Sequence[StepSpec],
    relations: Sequence[Relation],
    data: Mapping[str, Datum],
    carried: Mapping[str, Carryable],
    angles: frozenset[str],
    where: str,
) -> tuple[System, frozenset[str]]:
    values = {s: d.si for s, d in data.items()} | {s: c.value for s, c in carried.items()}
    hints = {s.find: read_quantity(t).si for s in steps for t in (s.answer or s.show,) if t}
    wanted = [s.find for s in steps]

    def solve(extra: Mapping[str, float]) -> System:
        return solved_system(relations, {**values, **extra}, angles=angles, signed=frozenset(spec.signed), hints=hints, wanted=wanted)

    try:
        return solve({}), frozenset()
    except Unsolvable as error:
        free = _cancelling(relations, values, wanted, solve)
        if free is None:
            missing = ", ".join(error.missing)
            letters = sorted(frozenset[str]().union(*(r.letters for r in relations)) - values.keys() - set(wanted))
            mend = f"Give a value of {' or '.join(letters)}, or add a relationship." if letters else "Check the symbols in using."
            raise _problem(where, "find", f"{missing} cannot be found from what is given", mend=mend) from error
        return solve(dict.fromkeys(free, 1.0)), free


def _cancelling(relations: Sequence[Relation], values: Mapping[str, float], wanted: Sequence[str], solve: object) -> frozenset[str] | None:
    """A letter without a value that does not matter (a mass that cancels): the answer is the same whatever it is."""
    letters = frozenset[str]().union(*(r.letters for r in relations)) - values.keys() - set(wanted)
    for name in sorted(letters):
        try:
            one, two = solve({name: 1.0}), solve({name: 1.7})  # type: ignore[operator]
        except Unsolvable:
            continue
        if all(abs(one.base[w] - two.base[w]) <= 1e-9 * abs(one.base[w]) for w in wanted):
            return frozenset({name})
    return None


def _dimensions(
    system: System, data: Mapping[str, Datum], carried: Mapping[str, Carryable], angles: frozenset[str]
) -> dict[str, Dimensions | None]:
    known: dict[str, Dimensions | None] = {s: d.unit.dimensions if d.unit else NO_DIMENSIONS for s, d in data.items()}
    known.update({s: c.dimensions for s, c in carried.items()})
    for step in system.steps:
        env = {n: Value(system.base[n], system.base[n], d) for n, d in known.items()}
        for letter, tree in zip(step.letters, step.trees, strict=True):
            try:
                known[letter] = evaluate(tree, env).dimensions
            except Unknown:
                known[letter] = None
    for name in system.base:
        if name in angles:
            known[name] = (0.0,) * 7 + (1.0,)
        known.setdefault(name, None)
    return known


# --- goals and points -------------------------------------------------------------------------------


def _goal(
    spec: CalculationPart,
    step: StepSpec,
    system: System,
    data: Mapping[str, Datum],
    carried: Mapping[str, Carryable],
    helpers: frozenset[int],
    convention: Convention,
    dimensions: Mapping[str, Dimensions | None],
    angles: frozenset[str],
    where: str,
    points: Sequence[PointSpec] | None,
) -> Goal:
    known = {s.find for s in spec.steps()} - {step.find}
    used, letters = _derivation(system, step.find, known)
    unit = _unit(step.unit, where) if step.unit else _usual_unit(step.show or step.answer, where, step.find in angles)
    accept = _accept(step.accept, where)
    shown = read_quantity(step.show).si if step.show else None
    value = system.base[step.find]
    _check_answer(step, value, accept, shown, where)
    figures = step.figures or _least_figures([data[n] for n in letters if n in data and not data[n].constant], carried, letters)
    given = points or step.points
    relations = used - helpers
    marks = step.marks if step.marks is not None else spec.marks
    chosen: tuple[Point, ...]
    if given:
        chosen = tuple(_point(p, i, spec, system, relations, convention, where) for i, p in enumerate(given))
    else:
        unitless = not any(dimensions.get(step.find) or (1.0,))
        chosen = default_points(system, step.find, relations, helpers, marks, shown is not None, convention, where, unitless=unitless)
    return Goal(
        find=step.find,
        value=value,
        accept=accept,
        figures=figures,
        shown=shown,
        shown_text=step.show,
        unit=unit,
        points=with_dependence(chosen, convention, where),
        relations=used,
        label=step.label,
        shown_figures=read_quantity(step.show).number.figures[1] if step.show else 1,
        sensible=_accept(step.sensible, where, "sensible"),
        special=tuple(_special(s, where) for s in step.special),
    )


def _special(spec: SpecialSpec, where: str) -> Special:
    try:
        typed = read_quantity(spec.answer)
    except ValueError as error:
        raise _problem(where, "special", str(error), 'the value the wrong route leads to, such as "0.20 Ω"') from error
    half = typed.number.half * (typed.unit.scale if typed.unit else 1.0)
    return Special(value=typed.si, half=half, marks=spec.marks, because=spec.because)


def _derivation(system: System, find: str, stop: set[str]) -> tuple[frozenset[int], frozenset[str]]:
    """Relationships and letters that lead to a goal, not going back beyond other goals."""
    used: set[int] = set()
    letters: set[str] = set()
    wanted = [find]
    by_letter = {name: step for step in system.steps for name in step.letters}
    while wanted:
        name = wanted.pop()
        step = by_letter.get(name)
        if step is None or (name in stop and name != find):
            continue
        if used >= set(step.relations):
            continue
        used |= set(step.relations)
        inner = frozenset[str]().union(*(symbols(t) for t in step.trees)) - {"π"}
        letters |= inner
        wanted.extend(inner)
    return frozenset(used), frozenset(letters)


def _least_figures(data: Sequence[Datum], carried: Mapping[str, Carryable], letters: frozenset[str]) -> int:
    figures = [d.number.figures[1] for d in data if d.number.half > 0] + [c.figures for s, c in carried.items() if s in letters]
    return min(figures, default=3)


def _unit(text: str, where: str) -> Unit:
    found = parse_unit(text)
    if not found:
        raise _problem(where, "unit", f"{text!r} is not a unit", mend='Write for example "m/s" or "N kg^-1".')
    return found[0][0]


def _usual_unit(text: str, where: str, angle: bool) -> Unit | None:
    if text:
        return read_quantity(text).unit
    return _unit("°", where) if angle else None


def _accept(texts: Sequence[str], where: str, key: str = "accept") -> tuple[float, float] | None:
    if not texts:
        return None
    if len(texts) != 2:
        raise _problem(where, key, f"{len(texts)} values", "the lowest and the highest value")
    try:
        low, high = sorted(read_quantity(t).si for t in texts)
    except ValueError as error:
        raise _problem(where, key, str(error), 'two quantities, such as ["430 Ω", "432 Ω"]') from error
    return low, high


def _check_answer(step: StepSpec, value: float, accept: tuple[float, float] | None, shown: float | None, where: str) -> None:
    if step.answer:
        typed = read_quantity(step.answer)
        if abs(typed.si - value) > max(0.01 * abs(value), typed.number.half * (typed.unit.scale if typed.unit else 1.0)):
            raise _problem(where, "answer", f"{step.answer!r} is typed, but the data give {value:.4g} in SI units", mend="Correct one of them.")
    if accept is not None and not accept[0] * (1 - 1e-9) <= value <= accept[1] * (1 + 1e-9) and not accept[1] < 0:
        raise _problem(where, "accept", f"the computed answer {value:.5g} (SI) lies outside the accepted range", mend="Correct the range or the data.")
    if shown is not None and abs(shown - value) > 0.06 * abs(value):
        raise _problem(where, "show", f"{step.show!r} is to be shown, but the data give {value:.4g} in SI units", mend="Correct one of them.")


def _point(
    spec: PointSpec, index: int, part: CalculationPart, system: System, relations: frozenset[int], convention: Convention, where: str
) -> Point:
    of = [spec.of] if isinstance(spec.of, str) and spec.of else list(spec.of) if not isinstance(spec.of, str) else []
    key = f"points {index + 1}"
    name = spec.name or (f"{spec.kind} {of[0]}" if of else spec.kind)
    chosen: frozenset[int] = frozenset()
    if spec.kind in ("relationship", "substitution"):
        chosen = frozenset(_index(t, system, f"{where}, {key}") for t in of) or (relations if spec.kind == "substitution" else frozenset())
        if not chosen:
            chosen = relations
    quantity = of[0] if spec.kind == "value" and of else ""
    if quantity and quantity not in system.base:
        raise _problem(f"{where}, {key}", "of", f"{quantity!r} is not a quantity of this part", f"one of {', '.join(sorted(system.base))}")
    kind = spec.type or convention.mark_types.get(spec.kind, "C")
    return Point(
        name=name,
        kind=spec.kind,
        marks=spec.marks,
        type=kind,
        relations=chosen,
        quantity=quantity,
        needs=tuple(spec.needs),
        accept=_accept(spec.accept, where),
        follow=spec.follow,
        isw=spec.isw,
    )


def _index(text: str, system: System, where: str) -> int:
    row = by_name().get(text.casefold())
    wanted = row.equation if row is not None else text
    for i, relation in enumerate(system.relations):
        if relation.name == wanted:
            return i
    table = SymbolTable(tuple(SymbolEntry(name=n) for n in system.base))
    try:
        reading = read_relation(wanted, table)
        for i, relation in enumerate(system.relations):
            if system.support((reading.sides[0], reading.sides[1])) == frozenset({i}):
                return i
    except (ValueError, IndexError):
        pass
    names = ", ".join(repr(r.name) for r in system.relations)
    raise _problem(where, "of", f"{text!r} is not a relationship of this part", f"one of {names}")


def _check_marks(spec: CalculationPart, goals: Sequence[Goal], where: str) -> None:
    total = sum(g.maximum for g in goals)
    if total != spec.marks:
        raise _problem(where, "marks", f"the points add up to {total:g}, the part is worth {spec.marks}", mend="Make them agree.")


# --- the symbol table for reading --------------------------------------------------------------------


def _table(
    spec: CalculationPart,
    system: System,
    data: Mapping[str, Datum],
    dimensions: Mapping[str, Dimensions | None],
    angles: frozenset[str],
    units: Mapping[str, Unit | None],
) -> SymbolTable:
    """Letters and words for every quantity: the scheme's own first, then those the library knows, where they clash with nothing."""
    taken = {n.casefold() for n in system.base}
    own: dict[str, list[str]] = {n: [] for n in system.base}
    words: dict[str, list[str]] = {n: [] for n in system.base}
    for name, given in spec.names.items():
        for text in given:
            (own if len(text) <= 3 and " " not in text else words)[name].append(text)
    candidates: dict[str, list[str]] = {}
    word_owners: dict[str, set[str]] = {}
    for name in system.base:
        for kind in kinds_of(name, dimensions.get(name)):
            for letter in kind.letters:
                if len(letter) > 1:
                    candidates.setdefault(letter, []).append(name)
            for word in kind.words:
                word_owners.setdefault(word, set()).add(name)
    for letter, names in candidates.items():
        if len(set(names)) == 1 and letter.casefold() not in taken and not any(letter in o for o in own.values()):
            own[names[0]].append(letter)
    for word, names_ in word_owners.items():
        if len(names_) == 1:
            words[next(iter(names_))].append(word)
    by_symbol = {c.symbol: c for c in constants()}
    entries = []
    for name in system.base:
        constant = by_symbol.get(name) if name in data and data[name].constant else None
        if constant is not None:
            words[name].extend(w for w in constant.words if w not in word_owners)
        unit = units.get(name)
        entries.append(
            SymbolEntry(
                name=name,
                spellings=tuple(dict.fromkeys(own[name])),
                names=tuple(dict.fromkeys(words[name])),
                unit=unit.name if unit else "",
                angle=name in angles,
                constant=constant is not None,
            )
        )
    return SymbolTable(tuple(entries))


def _question(name: str) -> str:
    """The question a part belongs to: the leading digits of its name ("2b" is of question 2), else the name itself."""
    digits = re.match(r"\d+", name)
    return digits.group() if digits else name


