"""What the candidate's own letters mean."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from marker.expression import Call, Expr, Symbol, children, put, rebuild, symbols
from marker.frozen import frozen

_OF_ANGLES = frozenset({"sin", "cos", "tan"})
Pair = tuple[Expr, Expr]


@frozen
class Letters:
    """What the candidate's own letters mean: quantities of the part, or expressions."""

    quantities: Mapping[str, str]
    expressions: Mapping[str, Expr]
    angle: str = ""
    angles: frozenset[str] = frozenset()

    def __hash__(self) -> int:
        return hash((self.angle, frozenset(self.quantities.items()), frozenset(self.expressions)))

    def resolve(self, tree: Expr) -> Expr:
        """A tree in the part's own letters, as far as they are known; a letter under a sine that is no angle is the one angle there is."""
        if self.angle:
            tree = self._with_angle(tree)
        unknown = symbols(tree)
        if not (unknown & (self.quantities.keys() | self.expressions.keys())):
            return tree
        mapping: dict[str, Expr] = {n: Symbol(name=q, known=True) for n, q in self.quantities.items() if n in unknown}
        mapping.update({n: e for n, e in self.expressions.items() if n in unknown})
        return put(tree, mapping)

    def _with_angle(self, tree: Expr) -> Expr:
        """`mg sin a` in a part that calls its acceleration a and its angle θ."""
        if isinstance(tree, Call) and tree.function in _OF_ANGLES and isinstance(tree.inner, Symbol):
            taken = tree.inner.name in self.angles or tree.inner.name == "π"
            return tree if taken else replace(tree, inner=Symbol(name=self.angle, known=True))
        parts = children(tree)
        return rebuild(tree, tuple(map(self._with_angle, parts))) if parts else tree
