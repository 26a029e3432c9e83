"""Where left-out brackets go.

Candidates leave brackets out: mv/Bq, √2gh, sin 2θ, root 2xEk/m, 37-7.4/100-20. Each such place is a choice among a few
extents, each with a cost; the chosen extent is put in brackets and the token list goes to the grammar. Cost 0 is what a
physicist would take it for at first sight.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product as combinations
from typing import NamedTuple

from marker.frozen import frozen
from marker.reading.extents import View
from marker.reading.habits import BELOW, SUMS
from marker.reading.model import Assumption
from marker.reading.numbers import LARGEST_POWER
from marker.reading.tokens import Tok

SUMS_IN_BRACKETS = "the sums are read as if in brackets"
_IN_DOUBT = frozenset(("SLASH", "FUNC", "ROOT", "POW", "TIMES"))
_SUMS = frozenset(("PLUS", "MINUS"))
_PRODUCTS = frozenset(("SLASH", "TIMES"))
_MOST_COMBINATIONS = 48


@frozen(kw_only=False)
class _Option:
    """Brackets to put round tokens i to j (j excluded), pairs of them; none for the text as it stands."""

    cost: float
    brackets: tuple[tuple[int, int], ...] = ()
    note: Assumption | None = None


class Variant(NamedTuple):
    """Tokens with their left-out brackets, the cost of putting them there, and what is assumed."""

    cost: float
    tokens: tuple[Tok, ...]
    notes: tuple[Assumption, ...]


def by_habit(tokens: Sequence[Tok], angles: frozenset[str], habit: frozenset[str]) -> Variant:
    """The tokens bracketed as the habit has it at every place: all that is multiplied after a solidus below it, all sums together."""
    tokens = _mixed_quantities(tokens) or tokens
    view = View(tokens, angles)
    chosen = [_habitual(options, habit) for i in range(len(tokens)) if (options := _site(view, i))]
    tight = _tight_sums(view) if SUMS in habit else None
    chosen += [x for x in (tight, _unit_of_all(view)) if x is not None]
    notes = tuple(o.note for o in chosen if o.note is not None)
    cost = max((o.cost for o in chosen), default=0.0)
    return Variant(cost, _bracketed(tokens, [b for o in chosen for b in o.brackets]), notes)


def _habitual(options: list[_Option], habit: frozenset[str]) -> _Option:
    if BELOW in habit:
        for code in ("product-below", "wide-slash"):
            for option in options:
                if option.note is not None and option.note.code == code:
                    return option
    return min(options, key=lambda o: o.cost)


def variants(tokens: Sequence[Tok], angles: frozenset[str] = frozenset()) -> Iterator[Variant]:
    """Ways to bracket the tokens, in rising cost; the tokens as they are when nothing is in doubt."""
    kinds = {t.type for t in tokens}
    if "UNIT" in kinds and len(tokens) > 3:
        tokens = _mixed_quantities(tokens) or tokens
    if not kinds & _IN_DOUBT:
        yield Variant(0.0, tuple(tokens), ())
        return
    view = View(tokens, angles)
    sites = [options for i in range(len(tokens)) if (options := _site(view, i))]
    tight = _tight_sums(view) if kinds & _SUMS and kinds & _PRODUCTS else None
    if tight is not None:
        sites.append([_Option(0.0), tight])
    last = _unit_of_all(view)
    if last is not None:
        sites.append([last, _Option(0.3)])
    if not sites:
        yield Variant(0.0, tuple(tokens), ())
        return
    for chosen in _ranked(sites):
        cost = sum(o.cost for o in chosen)
        notes = tuple(o.note for o in chosen if o.note is not None)
        brackets = [b for o in chosen for b in o.brackets]
        yield Variant(round(cost, 3), _bracketed(tokens, brackets), notes)


def _ranked(sites: list[list[_Option]]) -> list[tuple[_Option, ...]]:
    """Combinations of options by total cost; only changes at one or two sites when there are very many."""
    count = 1
    for options in sites:
        count *= len(options)
    best = tuple(min(options, key=lambda o: o.cost) for options in sites)
    if count <= _MOST_COMBINATIONS:
        chosen = list(combinations(*sites))
    else:
        chosen = [best]
        for index, options in enumerate(sites):
            chosen += [(*best[:index], o, *best[index + 1 :]) for o in options if o is not best[index]]
        # every site of the same kind read the other way at once
        chosen.append(tuple(max(options, key=lambda o: o.cost) for options in sites))
    chosen.sort(key=lambda c: sum(o.cost for o in c))
    return chosen[:_MOST_COMBINATIONS]


def _bracketed(tokens: Sequence[Tok], brackets: list[tuple[int, int]]) -> tuple[Tok, ...]:
    if not brackets:
        return tuple(tokens)
    opens: dict[int, int] = {}
    closes: dict[int, int] = {}
    for i, j in brackets:
        opens[i] = opens.get(i, 0) + 1
        closes[j] = closes.get(j, 0) + 1
    out: list[Tok] = []
    for index, token in enumerate(tokens):
        out += [Tok("RPAR", "", token.start, token.start)] * closes.get(index, 0)
        out += [Tok("LPAR", "", token.start, token.start)] * opens.get(index, 0)
        out.append(token)
    end = tokens[-1].end
    out += [Tok("RPAR", "", end, end)] * closes.get(len(tokens), 0)
    return tuple(out)


def _note(view: View, i: int, code: str, text: str) -> Assumption:
    token = view.tokens[i]
    return Assumption(code=code, text=text, at=(token.start, token.end))


def _site(view: View, i: int) -> list[_Option] | None:
    t = view.types[i]
    if t == "SLASH":
        return _slash(view, i)
    if t == "FUNC":
        return _argument(view, i)
    if t == "ROOT":
        return _root(view, i)
    if t == "POW":
        return _exponent(view, i)
    return None


# ---- the solidus -----------------------------------------------------------------------------------------------------


def _slash(view: View, i: int) -> list[_Option] | None:
    """mv/Bq: is the run after the solidus all below the line?  a/b × c: is the product?"""
    first = view.sign(i + 1)
    power, run = view.power(first), view.run(first)
    options: list[_Option] = []
    if _plain_fraction(view, i):
        return [_Option(0.0, ((i - 1, i + 2),)), _Option(0.5)]
    if run > power:
        wide_cost, plain_cost = _slash_costs(view, i, first, run)
        wide = _note(view, i, "wide-slash", "everything written together after the solidus is below the line")
        options = [_Option(plain_cost), _Option(wide_cost, ((first, run),), wide)]
    products = view.product(first, frozenset(("TIMES",)))
    if products > run:
        note = _note(view, i, "product-below", "the product after the solidus is all below the line")
        options = options or [_Option(0.0)]
        options.append(_Option(2.5, ((first, products),), note))
    return options or None


def _plain_fraction(view: View, i: int) -> bool:
    """1/3 A is a third of an ampere."""
    if view.types[i - 1 : i + 3] != ["NUMBER", "SLASH", "NUMBER", "UNIT"] or (i > 1 and view.types[i - 2] not in ("LPAR", "PLUS", "MINUS")):
        return False
    over, under = view.tokens[i - 1].value, view.tokens[i + 1].value
    return all(n.text.isdigit() and 1 <= n.value <= 9 for n in (over, under)) and under.value > 1


def _slash_costs(view: View, i: int, first: int, run: int) -> tuple[float, float]:
    """(run below the line, only the first factor below the line)."""
    types, tokens = view.types, view.tokens
    if types[first] in ("LPAR", "BOPEN") and not any(t in ("FUNC", "ROOT") for t in types[first:run]):
        return 1.0, 0.0
    if types[first] == "UNIT" or (types[i - 1] == "UNIT" and types[first] != "NUMBER"):
        return 0.8, 0.0
    if types[first] == "NUMBER" and types[i - 1] == "NUMBER" and types[i - 2] != "POW":
        if view.is_pi(first + 1) and tokens[i - 1].value.value == 1:
            half = tokens[first].value.value == 2
            permittivity = any(types[k] == "SYMBOL" and tokens[k].value[0][:1] == "ε" for k in range(first, run))
            return (0.0, 0.7) if half or permittivity else (0.5, 0.0)
        return 0.8, 0.0
    return 0.0, 0.9


# ---- functions -------------------------------------------------------------------------------------------------------

_FIGURES = frozenset(("NUMBER", "TIMES", "SLASH", "POW", "LPAR", "RPAR", "MINUS"))


def _unit_of_all(view: View) -> _Option | None:
    """12/3 m/s, π/3 rad: the one unit, at the end and put together of several, is the unit of the whole quotient."""
    t, last = view.types, len(view.tokens) - 1
    if last < 3 or t[last] != "UNIT" or t[last - 1] != "NUMBER":
        return None
    under = last - 2 - (t[last - 2] == "MINUS")
    if t[under] != "SLASH" or _plain_fraction(view, under):
        return None
    if any(t[k] not in _FIGURES and not view.is_pi(k) for k in range(last)):
        return None
    if any(t[k] == "MINUS" and t[k - 1] not in ("SLASH", "TIMES", "LPAR", "POW") for k in range(1, last)):
        return None
    own = view.tokens[last].value.name.isalpha() and not view.is_pi(under - 1)  # V = 12/6 C: that of what is below
    one = last == 3 and t[0] == "NUMBER" and view.tokens[0].value.value == 1
    return None if one or own else _Option(0.0, ((0, last),))


_INVERSES = frozenset(("asin", "acos", "atan"))
_ENDS_ARGUMENT = frozenset(("FUNC", "LPAR", "ROOT", "BOPEN"))


def _argument(view: View, i: int) -> list[_Option] | None:
    """sin 2θ, sin 47/1.52, e^-t/RC: how far the argument goes when it has no brackets."""
    first = view.sign(i + 1)
    if view.types[first] == "LPAR" and first == i + 1:
        return _bracket_argument(view, i)
    narrow = view.power(first)
    run = view.run(first, _ENDS_ARGUMENT)
    whole = run
    while view.types[whole] in ("SLASH",):
        whole = view.run(view.sign(whole + 1), _ENDS_ARGUMENT)
    run_cost, narrow_cost, whole_cost = _argument_costs(view, i, first, narrow, run)
    found = {narrow: (narrow_cost, "")}
    if run > narrow:
        found[run] = (run_cost, "the letters written together are all in the argument")
    if whole > run:
        found[whole] = (whole_cost, "the whole fraction is in the argument")
    if view.tokens[i].value[0] == "exp":
        product = view.product(first)
        if product > whole:
            # the superscript is lost in e-0.131x18, and kept in e^-0.131 x 18
            lost = view.tokens[i].end - view.tokens[i].start == 1
            found = {end: (cost + (0.4 if lost else 0.0), text) for end, (cost, text) in found.items()}
            found[product] = (0.0 if lost else 0.5, "the whole product is in the exponent")
    least = min(cost for cost, _ in found.values())
    return [
        _Option(cost - least, ((i + 1, end),), None if not text else _note(view, i, "argument", text))
        for end, (cost, text) in found.items()
    ]


def _bracket_argument(view: View, i: int) -> list[_Option] | None:
    """tan^-1 (-7.0)/245, tan^-1(3)/(4): an angle is hardly divided, the sides of a triangle are."""
    close = view.match.get(i + 1, i + 1)
    if view.tokens[i].value[0] not in _INVERSES or view.types[close + 1] != "SLASH":
        return None
    under = view.sign(close + 2)
    if view.types[under] not in ("NUMBER", "LPAR", "SYMBOL"):
        return None
    apart = view.tokens[i].end < view.tokens[i + 1].start or view.types[under] == "LPAR"
    note = _note(view, i, "argument", "the whole fraction is in the argument")
    return [_Option(0.3 if apart else 0.0), _Option(0.0 if apart else 0.3, ((i + 1, view.run(under)),), note)]


def _argument_costs(view: View, i: int, first: int, narrow: int, run: int) -> tuple[float, float, float]:
    """(run, one factor, quotient)."""
    name = view.tokens[i].value[0]
    if name == "exp":
        return 0.1, 0.6, 0.0
    if name in _INVERSES:
        return 0.2, 0.4, 0.0
    letters = view.has_symbols(first, run)
    if name in ("ln", "log10", "log2"):
        return 0.0, 0.3, 0.1 if letters else 0.6
    with_pi = any(view.is_pi(k) for k in range(first, run))
    if with_pi:
        return 0.0, 0.8, 0.0 if run == narrow else 0.2
    if view.is_angle(first):
        return 1.5, 0.0, 2.0
    if view.types[first] == "NUMBER" and view.types[first + 1] == "UNIT":
        return 2.0, 0.0, 2.0
    if view.types[first] == "NUMBER":
        return (0.0, 0.7, 2.0) if run > narrow and view.types[narrow] == "SYMBOL" else (0.0, 0.0, 2.0)
    return 0.0, 0.5, 1.5


# ---- roots -----------------------------------------------------------------------------------------------------------


def _root(view: View, i: int) -> list[_Option] | None:
    """√2gh, root 2xEk/m, root 1.1^2+2.9^2: how far the root reaches when it has no brackets."""
    first = view.sign(i + 1)
    if view.types[first] == "LPAR":
        close = view.match.get(first, first)
        if close + 1 < len(view.types) and view.types[close + 1] in ("POW", "SLASH", "TIMES"):
            return None
        return None
    narrow, run = view.power(first), view.run(first)
    whole, total = view.product(first), view.sum(first)
    word = view.tokens[i].end - view.tokens[i].start > 1
    letters = view.has_symbols(first, run)
    squares = view.types[first] in ("NUMBER", "SYMBOL") and view.types[first + 1] == "POW"
    options: dict[int, tuple[float, str]] = {narrow: (0.5, "")}
    options[run] = (0.4 if (letters or word) and whole > run else 0.0, "the root covers what is written together")
    if whole > run:
        options[whole] = (0.0 if word or letters else 0.6, "the root covers the product or fraction")
    if total > whole:
        options[total] = (0.0 if squares and whole == narrow else 1.0 if word else 2.0, "the root covers the sum")
    if squares and total > whole:
        options = {end: (cost + (0.5 if end != total else 0.0), text) for end, (cost, text) in options.items()}
    least = min(cost for cost, _ in options.values())
    return [
        _Option(cost - least, ((i + 1, end),), _note(view, i, "root-extent", text) if text and end > narrow else None)
        for end, (cost, text) in options.items()
    ]


def _exponent(view: View, i: int) -> list[_Option] | None:
    """x^1/2: the exponent may be the whole fraction."""
    t, tokens = view.types, view.tokens
    j = view.sign(i + 1)
    if t[j : j + 3] == ["NUMBER", "SLASH", "NUMBER"] and tokens[j].value.value in (1, 2, 3) and tokens[j + 2].value.value in (2, 3, 4):
        note = _note(view, i, "fraction-exponent", "the exponent is the whole fraction")
        root = tokens[j].value.value == 1 and i > 0 and t[i - 1] == "SYMBOL"  # A^1/3: nothing is raised to the power of one
        return [_Option(0.6 if root else 0.0), _Option(0.0 if root else 0.6, ((i + 1, j + 3),), note)]
    if _of_half(view, i) and j + 2 < len(t) and t[j] in _LEAF and t[j + 1] == "SLASH" and t[j + 2] in _LEAF:
        note = _note(view, i, "fraction-exponent", "the exponent is the whole fraction")
        return [_Option(0.3), _Option(0.0, ((i + 1, view.run(j + 2)),), note)]  # A = A_0 (1/2)^t/T
    ten = i > 0 and t[i - 1] == "NUMBER" and tokens[i - 1].value.value == 10 and j < len(tokens)
    level = t[j] == "SYMBOL" or (t[j] == "NUMBER" and (tokens[j].value.value > LARGEST_POWER or "." in tokens[j].value.text))
    if ten and level and t[j + 1 : j + 3] == ["SLASH", "NUMBER"] and tokens[j + 2].value.value in (10, 20):  # 10^L/10, in decibels
        note = _note(view, i, "fraction-exponent", "the exponent is the whole fraction")
        return [_Option(0.3), _Option(0.0, ((i + 1, j + 3),), note)]
    return None


_LEAF = frozenset(("NUMBER", "SYMBOL"))


def _of_half(view: View, i: int) -> bool:
    """What is raised at i is a half: 0.5 or (1/2)."""
    if i == 0:
        return False
    before = view.tokens[i - 1]
    if before.type == "NUMBER":
        return bool(before.value.value == 0.5)
    half = before.type == "RPAR" and i > 4 and view.types[i - 5 : i] == ["LPAR", "NUMBER", "SLASH", "NUMBER", "RPAR"]
    return half and view.tokens[i - 4].value.value == 1 and view.tokens[i - 2].value.value == 2


# ---- sums that lost their brackets, and mixed quantities -------------------------------------------------------------


def _tight_sums(view: View) -> _Option | None:
    """37-7.4/100-20 as (37-7.4)/(100-20): every sum between products, solidi and brackets held together."""
    t = view.types
    groups: list[tuple[int, int]] = []
    depth, seen_product = 0, set()
    depths: list[int] = []
    for kind in t:
        if kind in ("RPAR", "BCLOSE"):
            depth -= 1
        depths.append(depth)
        if kind in ("LPAR", "BOPEN"):
            depth += 1
        if kind in ("SLASH", "TIMES"):
            seen_product.add(depth)
    i = 0
    while i < len(view.tokens):
        if t[i] in ("PLUS", "MINUS") and depths[i] in seen_product and i > 0 and t[i - 1] not in _OPERATORS:
            start, end = _run_before(view, i, depths), view.run(view.sign(i + 1))
            while t[end] in ("PLUS", "MINUS"):
                end = view.run(view.sign(end + 1))
            groups.append((start, end))
            i = end
        else:
            i += 1
    if not groups or all((s == 0 or t[s - 1] in ("LPAR", "BOPEN")) and t[e] in ("END", "RPAR", "BCLOSE") for s, e in groups):
        return None
    note = _note(view, groups[0][0], "sum-brackets", SUMS_IN_BRACKETS)
    return _Option(3.0, tuple(groups), note)


_OPERATORS = frozenset(("PLUS", "MINUS", "PM", "TIMES", "SLASH", "POW", "LPAR", "BOPEN", "FUNC", "ROOT"))


def _run_before(view: View, i: int, depths: list[int]) -> int:
    """Start of the run that ends before token i."""
    level = depths[i]
    j = i
    while j > 0:
        previous = view.types[j - 1]
        if depths[j - 1] == level and previous in ("TIMES", "SLASH", "PLUS", "MINUS", "PM"):
            break
        if depths[j - 1] < level:
            break
        if depths[j - 1] == level and previous in ("LPAR", "BOPEN") and view.match.get(j - 1, j) > i:
            break
        j -= 1
    return j


def _mixed_quantities(tokens: Sequence[Tok]) -> list[Tok] | None:
    """3 min 54 s as one sum; None when there is no such place."""
    out: list[Tok] = []
    i, changed = 0, False
    while i < len(tokens):
        j = i
        while (
            j + 3 < len(tokens)
            and tokens[j].type == "NUMBER"
            and tokens[j + 1].type == "UNIT"
            and tokens[j + 2].type == "NUMBER"
            and tokens[j + 3].type == "UNIT"
            and tokens[j + 3].value.dimensions == tokens[j + 1].value.dimensions
            and tokens[j + 3].value.scale < tokens[j + 1].value.scale
        ):
            j += 2
        if j == i:
            out.append(tokens[i])
            i += 1
            continue
        changed = True
        out.append(Tok("LPAR", "", tokens[i].start, tokens[i].start))
        for k in range(i, j + 1, 2):
            if k > i:
                out.append(Tok("PLUS", "", tokens[k].start, tokens[k].start))
            out += tokens[k : k + 2]
        out.append(Tok("RPAR", "", tokens[j + 1].end, tokens[j + 1].end))
        i = j + 2
    return out if changed else None
