"""Token lists to expression trees by the LALR grammar grammars/working.lark.

The transformer only builds nodes. Sums and products grow as lists while the parser works and become one
flat node where they end, so a·b·c is one product of three.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from lark import Lark
from lark.lexer import Lexer
from lark.parsers.lalr_analysis import Shift

from marker.expression import (
    Call,
    Expr,
    Negative,
    Number,
    PlusMinus,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    UnitFactor,
)
from marker.reading.tokens import Tok
from marker.resources import grammar


class _Group:
    """Terms of a sum or factors of a product still growing."""

    __slots__ = ("parts",)

    def __init__(self, parts: list[Expr]) -> None:
        self.parts = parts


class _Terms(_Group):
    __slots__ = ()


class _Factors(_Group):
    __slots__ = ()


Part = Expr | _Group


def _span(*parts: Any) -> tuple[int, int] | None:
    """From the first part's start to the last part's end; parts are nodes, groups or tokens."""
    first, last = parts[0], parts[-1]
    while isinstance(first, _Group):
        first = first.parts[0]
    while isinstance(last, _Group):
        last = last.parts[-1]
    start = first.start if isinstance(first, Tok) else None if first.at is None else first.at[0]
    end = last.end if isinstance(last, Tok) else None if last.at is None else last.at[1]
    return None if start is None or end is None else (start, end)


def _done(part: Part) -> Expr:
    if isinstance(part, _Factors):
        return Product(factors=tuple(part.parts), at=_span(part))
    if isinstance(part, _Terms):
        return Sum(terms=tuple(part.parts), at=_span(part))
    assert isinstance(part, Expr)
    return part


class _Build:
    """One method a rule of the grammar; each takes the list of children and returns a node or a growing group."""

    def start(self, c: list[Any]) -> Expr:
        return _done(c[0])

    def plus(self, c: list[Any]) -> Part:
        return _grow(c[0], _done(c[2]))

    def minus(self, c: list[Any]) -> Part:
        inner = _done(c[2])
        return _grow(c[0], Negative(inner=inner, at=_span(c[1], inner)))

    def plus_minus(self, c: list[Any]) -> Part:
        value, uncertainty = _done(c[0]), _done(c[2])
        return PlusMinus(value=value, uncertainty=_with_unit_of(value, uncertainty), at=_span(value, uncertainty))

    def beside(self, c: list[Any]) -> Part:
        return _multiply(c[0], _done(c[1]))

    def times(self, c: list[Any]) -> Part:
        return _multiply(c[0], _done(c[2]))

    def over(self, c: list[Any]) -> Part:
        over, under = _done(c[0]), _done(c[2])
        return Quotient(over=over, under=under, at=_span(over, under))

    def negative(self, c: list[Any]) -> Part:
        inner = _done(c[1])
        return Negative(inner=inner, at=_span(c[0], inner))

    def positive(self, c: list[Any]) -> Part:
        return _done(c[1])

    def either_sign(self, c: list[Any]) -> Part:
        inner = _done(c[1])
        return PlusMinus(value=Number(text="0", value=0.0), uncertainty=inner, at=_span(c[0], inner))

    def power(self, c: list[Any]) -> Part:
        base, exponent = _done(c[0]), _done(c[2])
        return Power(base=base, exponent=exponent, at=_span(base, exponent))

    def number(self, c: list[Any]) -> Part:
        return _number(c[0])

    def quantity(self, c: list[Any]) -> Part:
        return Product(factors=(_number(c[0]), _unit(c[1])), at=(c[0].start, c[1].end))

    def symbol(self, c: list[Any]) -> Part:
        name, known = c[0].value
        return Symbol(name=name, known=known, at=(c[0].start, c[0].end))

    def unit(self, c: list[Any]) -> Part:
        return _unit(c[0])

    def bracket(self, c: list[Any]) -> Part:
        return _done(c[1])

    def bracket_unit(self, c: list[Any]) -> Part:
        return Product(factors=(_done(c[1]), _unit(c[3])), at=_span(c[0], c[3]))

    def absolute(self, c: list[Any]) -> Part:
        return Call(function="abs", inner=_done(c[1]), at=_span(c[0], c[2]))

    def call(self, c: list[Any]) -> Part:
        function, power = c[0].value
        inner = _done(c[1])
        called: Expr = Call(function=function, inner=inner, at=_span(c[0], inner))
        if power is None:
            return called
        return Power(base=called, exponent=power, at=called.at)

    def root(self, c: list[Any]) -> Part:
        inner = _done(c[1])
        return Root(inner=inner, degree=c[0].value, at=_span(c[0], inner))


def _number(token: Tok) -> Number:
    n: Number = token.value
    return Number(text=n.text, value=n.value, half=n.half, figures=n.figures, at=(token.start, token.end))


def _unit(token: Tok) -> UnitFactor:
    return UnitFactor(unit=token.value, at=(token.start, token.end))


def _grow(left: Part, right: Expr) -> Part:
    if isinstance(left, _Terms):
        left.parts.append(right)
        return left
    return _Terms([_done(left), right])


def _multiply(left: Part, right: Expr) -> Part:
    if isinstance(left, _Factors):
        left.parts.append(right)
        return left
    return _Factors([_done(left), right])


def _with_unit_of(value: Expr, uncertainty: Expr) -> Expr:
    """46.0 ± 0.5 m: the unit belongs to both; 5.0 Ω ± 4 %: the percentage is of the value."""
    unit = _unit_factor(uncertainty)
    if unit is not None and unit.unit.name == "%" and _unit_factor(value) != unit:
        return Product(factors=(uncertainty, value), at=uncertainty.at)
    mine = _unit_factor(value)
    if unit is None and mine is not None and isinstance(uncertainty, Number):
        return Product(factors=(uncertainty, mine), at=uncertainty.at)
    return uncertainty


def _unit_factor(node: Expr) -> UnitFactor | None:
    if isinstance(node, Product) and isinstance(node.factors[-1], UnitFactor):
        return node.factors[-1]
    return None


def share_unit(node: Expr) -> Expr:
    """46.0 ± 0.5 m as a whole side: the value takes the unit typed after the uncertainty."""
    if isinstance(node, PlusMinus) and isinstance(node.value, Number):
        unit = _unit_factor(node.uncertainty)
        if unit is not None and unit.unit.name != "%":
            return PlusMinus(value=Product(factors=(node.value, unit), at=node.value.at), uncertainty=node.uncertainty, at=node.at)
    return node


class _NoLexer(Lexer):
    """The tokens come ready made from the lattice; Lark makes the tables only."""

    def __init__(self, lexer_conf: Any) -> None:
        pass

    def lex(self, data: Any) -> Iterator[Any]:  # type: ignore[override]
        return iter(data)


@dataclass(frozen=True, slots=True)
class _Tables:
    """The LALR automaton that Lark makes of the grammar.

    actions  state -> token type -> the state to shift to, or (how many children, what builds the node, the rule's name);
             a rule that only hands its one child on builds nothing
    goto     state -> rule's name -> state
    """

    actions: Mapping[int, Mapping[str, int | tuple[int, Callable[[list[Any]], Any] | None, str]]]
    goto: Mapping[int, Mapping[str, int]]
    start: int
    end: int


@lru_cache(maxsize=1)
def _tables() -> _Tables:
    lark = Lark(grammar("working.lark"), parser="lalr", lexer=_NoLexer, transformer=_Build(), maybe_placeholders=False)
    made: Any = lark.parser.parser
    table, builders = made._parse_table, made.parser.callbacks
    actions: dict[int, dict[str, Any]] = {}
    goto: dict[int, dict[str, int]] = {}
    for state, row in table.states.items():
        actions[state], goto[state] = {}, {}
        for name, (action, argument) in row.items():
            name = str(name)  # plain text is found faster than Lark's tokens
            if action is Shift:
                (actions if name.isupper() or name == "$END" else goto)[state][name] = argument
            else:
                hands_on = len(argument.expansion) == 1 and argument.alias is None and argument.origin.name != "start"
                actions[state][name] = (len(argument.expansion), None if hands_on else builders[argument], str(argument.origin.name))
    return _Tables(actions, goto, table.start_states["start"], table.end_states["start"])


@cache
def _settled(below: int, origin: str, kind: str) -> int:
    """The state after a rule's node, with every rule that only hands it on before a token of this kind done as well."""
    tables = _tables()
    while True:
        state = tables.goto[below][origin]
        action = tables.actions[state].get(kind)
        if action is None or isinstance(action, int) or action[1] is not None:
            return state
        origin = action[2]


_END = Tok("$END", "", 0, 0)


def parse(tokens: Sequence[Tok]) -> Expr | None:
    """The tree of a token list, None when the grammar has no place for it.

    Lark's automaton without the books Lark keeps for error recovery: a list that does not parse is nothing unusual here.
    """
    if len(tokens) <= 2:
        lone = _lone(tokens)
        if lone is not None:
            return lone
    tables = _tables()
    actions, goto, end = tables.actions, tables.goto, tables.end
    states, values = [tables.start], list[Any]()
    for token in (*tokens, _END):
        kind = token.type
        while True:
            action = actions[states[-1]].get(kind)
            if action is None:
                return None
            if isinstance(action, int):
                states.append(action)
                values.append(token)
                break
            size, build, origin = action
            if build is None:
                states[-1] = goto[states[-2]][origin]
                continue
            children = values[-size:]
            del values[-size:]
            del states[-size:]
            values.append(build(children))
            states.append(_settled(states[-1], origin, kind))
            if token is _END and states[-1] == end:
                return share_unit(values[-1])
    return None


def _lone(tokens: Sequence[Tok]) -> Expr | None:
    """A number, letter or quantity by itself, as half of all sides are, needs no parser."""
    first = tokens[0]
    if len(tokens) == 1:
        if first.type == "SYMBOL":
            name, known = first.value
            return Symbol(name=name, known=known, at=(first.start, first.end))
        return _number(first) if first.type == "NUMBER" else None
    if first.type == "NUMBER" and tokens[1].type == "UNIT":
        return Product(factors=(_number(first), _unit(tokens[1])), at=(first.start, tokens[1].end))
    return None
