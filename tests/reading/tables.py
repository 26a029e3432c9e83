"""Symbol tables the reading tests share, and a statement's readings as plain text."""

from collections.abc import Mapping

from marker.reading import read_lines, write_plain
from marker.reading.model import Line, Reading, SymbolEntry, SymbolTable


def entry(name: str, *spellings: str, names: tuple[str, ...] = (), unit: str = "", angle: bool = False) -> SymbolEntry:
    return SymbolEntry(name=name, spellings=spellings, names=names, unit=unit, angle=angle)


TABLES: Mapping[str, SymbolTable] = {
    "": SymbolTable(),
    "motion": SymbolTable(
        (
            entry("v", unit="m/s"),
            entry("u", unit="m/s"),
            entry("a", unit="m/s^2"),
            entry("s", unit="m"),
            entry("t", unit="s"),
            entry("m", unit="kg"),
            entry("E", unit="J"),
        )
    ),
    "circuit": SymbolTable((entry("V", unit="V"), entry("I", unit="A"), entry("R", unit="Ω"))),
    "spring": SymbolTable((entry("F"), entry("k"), entry("x"), entry("W"))),
    "refraction": SymbolTable((entry("n"), entry("θ_1", angle=True), entry("θ_2", angle=True))),
    "one angle": SymbolTable((entry("d"), entry("n"), entry("λ"), entry("θ_1", angle=True))),
    "heating": SymbolTable((entry("Q"), entry("m"), entry("c"), entry("ΔT"))),
    "slope": SymbolTable((entry("F", names=("force",)), entry("θ", names=("slope", "angle of the slope"), angle=True))),
    "energy": SymbolTable((entry("E_k", "KE", "Ek"),)),
    "charge": SymbolTable((entry("e", unit="C"), entry("V", unit="V"), entry("W", unit="J"))),
    "names": SymbolTable(
        (
            entry("F", names=("force",)),
            entry("m", names=("mass",)),
            entry("a", names=("acceleration",)),
            entry("V", names=("voltage",)),
            entry("I", names=("current",)),
            entry("R", names=("resistance",)),
            entry("E_k", names=("kinetic energy",)),
            entry("v", names=("speed",)),
        )
    ),
}


def shown(reading: Reading) -> str:
    """A reading on one line, "= " in front when it opens so, " …" behind when it is unfinished."""
    text = f"{reading.opening} " if reading.opens else ""
    for index, side in enumerate(reading.sides):
        text += write_plain(side)
        if index < len(reading.relations):
            text += f" {reading.relations[index]} "
    return text + (" …" if reading.unfinished else "")


def read(typed: str, table: str = "") -> Line:
    return read_lines([typed], TABLES[table])[0]


def first_readings(typed: str, table: str = "") -> str:
    """The first reading of each statement of a line, parted by " ; "."""
    return " ; ".join(shown(s.readings[0]) for s in read(typed, table).statements)


def all_readings(typed: str, table: str = "") -> list[str]:
    """Every reading of the first statement of a line."""
    return [shown(r) for r in read(typed, table).statements[0].readings]
