"""MathML that may stand in a page: presentation elements only, everything else refused.

Records come from a file, so their MathML is not trusted: it is parsed, held to a list of MathML Core elements and
attributes, and written out anew.
"""

from __future__ import annotations

from xml.etree import ElementTree

_ELEMENTS = """
math mrow mi mn mo mtext mspace msup msub msubsup mfrac msqrt mroot
mover munder munderover mstyle mpadded mtable mtr mtd merror
"""
ELEMENTS = frozenset(_ELEMENTS.split())
ATTRIBUTES = frozenset({"display", "mathvariant", "stretchy", "form", "fence", "lspace", "rspace", "width", "accent", "displaystyle"})
LONGEST = 20_000
_NAMESPACE = "{http://www.w3.org/1998/Math/MathML}"


def safe_mathml(text: str) -> str:
    """The MathML written anew, without anything that is not mathematics; "" when it is none. A math inside a math becomes a row of it.

    Source   MathML Core, W3C, elements and attributes of sections 2 and 3
    """
    if not text or len(text) > LONGEST or "<!" in text or "<?" in text:
        return ""
    try:
        top = ElementTree.fromstring(f"<mrow>{text}</mrow>")
        if any(_name(child) != "math" for child in top) or (top.text or "").strip():
            return ""
        return " ; ".join(_written(_cleaned(child, 0)) for child in top)
    except (ElementTree.ParseError, _NotMathematics, ValueError):
        return ""


class _NotMathematics(Exception):
    """An element outside the list, or nesting beyond reason."""


def _name(element: ElementTree.Element) -> str:
    return element.tag.removeprefix(_NAMESPACE)


def _cleaned(element: ElementTree.Element, depth: int) -> ElementTree.Element:
    name = _name(element)
    if name not in ELEMENTS or depth > 60:
        raise _NotMathematics
    kept = {k: v for k, v in element.attrib.items() if k in ATTRIBUTES and len(v) < 40}
    if name == "math":
        name, kept = ("math", {"display": "inline"}) if depth == 0 else ("mrow", {})
    made = ElementTree.Element(name, kept)
    made.text = element.text
    for child in element:
        copy = _cleaned(child, depth + 1)
        copy.tail = child.tail if name != "math" else None
        made.append(copy)
    return made


def _written(element: ElementTree.Element) -> str:
    element.tail = None
    return ElementTree.tostring(element, encoding="unicode", short_empty_elements=False)
