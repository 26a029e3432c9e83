"""Signs in words as edges of the lattice: "times", "squared", "half of", "root of"."""

from __future__ import annotations

from marker.expression import Number
from marker.reading.clean import Clean
from marker.reading.item import Item
from marker.reading.model import Assumption
from marker.reading.tokens import Edge, Tok


def sign_edge(clean: Clean, item: Item, sign: str) -> Edge:
    """The edge of a sign in words."""
    place = clean.place(item.start, item.end)

    def tok(type: str, value: object) -> Tok:
        return Tok(type, value, place[0], place[1])

    if sign in ("×", "/", "+", "-", "±"):
        kind = {"×": "TIMES", "/": "SLASH", "+": "PLUS", "-": "MINUS", "±": "PM"}[sign]
        return Edge(item.start, item.end, "B", (tok(kind, sign),))
    if sign == "^":
        return Edge(item.start, item.end, "P", (tok("POW", sign),))
    if sign in ("^(2)", "^(3)"):
        return Edge(item.start, item.end, "P", (tok("POW", "^"), tok("NUMBER", _exact(sign[2]))), last="C")
    if sign in ("√", "∛", "∜"):
        return Edge(item.start, item.end, "F", (tok("ROOT", {"√": 2, "∛": 3, "∜": 4}[sign]),))
    parts = {"(1/2)": 0.5, "(1/3)": 1 / 3, "(1/4)": 0.25, "2×": 2.0}
    for text, value in parts.items():
        if sign.startswith(text):
            number = tok("NUMBER", Number(text=item.text, value=value, figures=(1, 15)))
            if sign.endswith("×"):
                return Edge(item.start, item.end, "N", (number, tok("TIMES", "×")), last="B")
            return Edge(item.start, item.end, "N", (number,))
    if sign.isdigit():
        return Edge(item.start, item.end, "N", (tok("NUMBER", _exact(sign)),))
    return Edge(item.start, item.end, "F", (tok("FUNC", (sign.strip(), None)),))


def degree_after(clean: Clean, item: Item, root: Edge) -> tuple[Edge, ...]:
    """root3(x): the figure between the word and its bracket may be the degree of the root."""
    figure, bracket = clean.text[item.end : item.end + 1], clean.text[item.end + 1 : item.end + 2]
    if root.kind != "F" or root.toks[0].type != "ROOT" or root.toks[0].value != 2 or figure not in ("3", "4") or bracket != "(":
        return ()
    a, b = clean.place(item.start, item.end + 1)
    note = Assumption(code="root-degree", text=f"the {figure} after the root is its degree", at=(a, b))
    root.cost += 0.2
    return (Edge(item.start, item.end + 1, "F", (Tok("ROOT", int(figure), a, b),), 0.0, note),)


def _exact(digits: str) -> Number:
    return Number(text=digits, value=float(digits), figures=(1, 15))
