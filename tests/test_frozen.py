"""Classes that the type checker keeps frozen: what is equal, hashed, copied and stored is their fields alone."""

from __future__ import annotations

import copy
import pickle

from marker.expression import Number, Product, Symbol, symbols
from marker.frozen import frozen


def mass_times_g(at: tuple[int, int] | None = None) -> Product:
    return Product(factors=(Symbol(name="m", known=True), Number(text="9.81", value=9.81)), at=at)


def test_equal_fields_make_equal_trees() -> None:
    assert mass_times_g() == mass_times_g(at=(0, 5))
    assert hash(mass_times_g()) == hash(mass_times_g(at=(0, 5)))
    assert mass_times_g() != Symbol(name="m", known=True)


def test_copied_and_stored_without_what_was_worked_out() -> None:
    tree = mass_times_g(at=(2, 7))
    assert symbols(tree) == {"m"} and hash(tree)
    for other in (copy.deepcopy(tree), pickle.loads(pickle.dumps(tree))):
        assert other == tree and other.at == (2, 7)
        assert not hasattr(other, "_hash") and not hasattr(other, "_letters")


def test_fields_in_order_where_asked() -> None:
    @frozen(kw_only=False)
    class Pair:
        first: int
        second: int = 2

    assert Pair(1) == Pair(first=1, second=2) and len({Pair(1), Pair(1, 2)}) == 1
