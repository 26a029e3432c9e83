"""Frozen dataclasses that are made by the hundred for every response."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields
from typing import Any, TypeVar, dataclass_transform, overload

T = TypeVar("T")


@overload
def frozen(cls: type[T], /) -> type[T]: ...


@overload
def frozen(*, kw_only: bool = True) -> Callable[[type[T]], type[T]]: ...


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(field,))
def frozen(cls: type[T] | None = None, /, *, kw_only: bool = True) -> type[T] | Callable[[type[T]], type[T]]:
    """`@dataclass(frozen=True, slots=True, kw_only=True)`, kept frozen by the type checker, which lets nobody assign to a field.

    To Python the fields are plain slots: a class that it keeps frozen itself takes two to three times as long to make an object
    of, each field being set by a call of object.__setattr__.
    """

    def made(cls: type[T]) -> type[T]:
        plain: Any = dataclass(slots=True, kw_only=kw_only, unsafe_hash="__hash__" not in vars(cls))(cls)
        plain.__getstate__, plain.__setstate__ = _fields_alone, _with_fields
        return plain  # type: ignore[no-any-return]

    return made if cls is None else made(cls)


def _fields_alone(self: Any) -> list[Any]:
    """What is copied or pickled: the fields, and nothing that was worked out of them and kept beside."""
    return [getattr(self, f.name) for f in fields(self)]


def _with_fields(self: Any, state: Sequence[Any]) -> None:
    for f, value in zip(fields(self), state, strict=True):
        setattr(self, f.name, value)
