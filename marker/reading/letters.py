"""What a run of letters can be: symbols with their indices, functions, Greek names, x that multiplies.

BILsinθ is cut by the part's symbols; v2 is v², v₂ or v·2; Ek, Vout and delta T are one symbol each.
"""

from __future__ import annotations

import re
from functools import lru_cache

from marker.expression import Number
from marker.physics import units
from marker.reading.alphabet import GREEK
from marker.reading.functions import Functions, Names
from marker.reading.symbols import index_words, key_of, words
from marker.reading.tokens import Edge

_CHANGING = ("T", "t", "x", "V", "v", "E", "Q", "θ", "φ", "p")
_UNKNOWN = 0.5
_UNKNOWN_TO_NOBODY = 0.2  # without a part, no letter is known
LETTER_RUN = re.compile(r"[A-Za-zΩμ]+")
_INDEX = re.compile(r"_(?:\{([^}]*)\}|\(([^)]*)\)|([A-Za-z0-9∥⊥Α-ω]+)|([+-]))")
_PRIMES = re.compile(r"'+")
_DIGITS = re.compile(r"\d+")
_INDEX_WORD = re.compile(r"[a-z]{2,12}(?![A-Za-z])")
_WAITING = ("sin", "cos", "tan", "ln", "log", "sqrt", "root")
_NAMED_LETTER = re.compile(r"[a-z]{3,7}(?![A-Za-z0-9_'^])")
_RATE = re.compile(r"d[^\W\d_]{1,6}\d?\s?/\s?d[a-zθ](?![A-Za-z])")
_RATE_OF = re.compile(r"(?<![A-Za-z])d[^\W\d_]{1,6}\d?\s?/\s?$")
_INDEX_LETTER = re.compile(r"([A-Za-zα-ω])([a-z])(?![^\W_]|_)")


@lru_cache(maxsize=1)
def usual_products() -> frozenset[str]:
    """Products of two letters that are no letter with an index: ma, hf, vt."""
    return frozenset(words()["symbols"]["products"])


class Letters(Functions):
    """Edges that begin at a letter."""

    __slots__ = ()

    def _is_product(self, name: str) -> bool:
        """`mu` in a part with a mass: letters side by side, unless the Greek letter is the part's; longer names only of its letters."""
        exact = self.area.symbols.exact
        return all(x in exact for x in name) or (len(name) == 2 and name[0] in exact and GREEK[name] not in exact)

    def letters(self, at: int) -> list[Edge]:
        """Symbols, functions, roots and Greek names that begin here, inside a run of letters or at its start."""
        text = self.limit
        c = text[at]
        found: list[Edge] = []
        names = self._names(at)
        if names is not None:
            found = self._functions(at, names[0])
            if found and any(e.cost <= 0.3 and (e.end - at >= 3 or text[e.end : e.end + 1] == "(") for e in found):
                return found
        if c in "xX":
            found += self._times(at)
            if found and self._only_multiplies(at):
                return found
        symbols = self._symbols(at, names)
        named = names is not None and c.islower() and not text[at - 1 : at].isalpha()
        whole = _NAMED_LETTER.match(text, at, self.area.end) if named else None
        if whole is not None and whole.group() in GREEK and not self._is_product(whole.group()):
            greek = [e for e in symbols if e.end >= whole.end()]
            return found + greek if greek else found + symbols
        if whole is not None and whole.group() in GREEK and GREEK[whole.group()] not in self.area.symbols.exact:
            for e in symbols:
                e.cost += 0.3 if e.end >= whole.end() else 0.0
        if c in "xX" and text[at - 1 : at] == " " and text[at + 1 : at + 2] == " " and at > self.area.start:
            for e in symbols:
                e.cost += 0.25  # a lone x between spaces multiplies
        exact_long = [] if found or len(symbols) == 1 else [e for e in symbols if e.cost == 0 and e.end - at > 1]
        if exact_long:
            longest = max(e.end for e in exact_long)
            symbols = [e for e in symbols if e.end >= longest or e.cost > 0 or e.end - at == 1]
        return found + symbols

    def _times(self, at: int) -> list[Edge]:
        """x as a multiplication sign."""
        c = self.limit[at]
        if self.limit[at + 1 : at + 2] == "_":
            return []
        symbols = self.area.symbols
        known = "x" in symbols.exact or "x" in self.area.used
        before, after = self.limit[at - 1 : at], self.limit[at + 1 : at + 2]
        left = before.isdigit() or (before == " " and self.limit[at - 2 : at - 1].isdigit())
        digits = left and (after.isdigit() or (after != "" and after in ". ("))
        cost = 0.0 if digits or not known else 0.0 if before == " " and after == " " else 0.6
        return [Edge(at, at + 1, "B", (self.tok("TIMES", c, at, at + 1),), cost, wide=True)]

    def _only_multiplies(self, at: int) -> bool:
        """x is no letter between two operands when the part has none: 42000 x 0.114, 2 x a, 3x2."""
        text, symbols = self.limit, self.area.symbols
        if "x" in symbols.exact or "x" in self.area.used or text[at] in symbols.exact or at == self.area.start:
            return False
        left, right = text[at - 1], text[at + 1 : at + 2]
        spaced = left == " " and right == " "
        if spaced:
            left, right = text[at - 2 : at - 1], text[at + 2 : at + 3]
        elif right == " ":
            right = text[at + 2 : at + 3]
        if not (left.isalnum() or left in ")°%'") or not right or not (right.isalnum() or right in "(√.½¼¾"):
            return False
        before = text[max(self.area.start, at - 6) : at].rstrip()
        if before.endswith(_WAITING):
            return False  # sin x
        figures = left.isdigit() and (right.isdigit() or right in ".(√" or bool(symbols.exact))
        return spaced or figures

    def _symbols(self, at: int, names: Names | None) -> list[Edge]:
        found: list[Edge] = []
        text = self.limit
        c = text[at]
        alone = not text[at + 1 : at + 2].isalpha()
        if c == "Δ" or (c in "dD" and text.startswith("elta", at + 1)):
            found += self._change(at)
        elif c in "dD":
            found += self._differential(at)
        if names is not None:
            found += self._greek_name(at, names[1])
            found += self._usual_names(at, names[2])
        word = None if alone else _INDEX_WORD.match(text, at + 1)
        if word is not None and word.group() in index_words() and not text[at - 1 : at].isalpha():
            found.append(self._symbol_edge(at, word.end(), c + word.group(), f"{c}_{word.group()}", -_UNKNOWN_TO_NOBODY))
        symbols = self.area.symbols
        if symbols.longest > 1 and (c in symbols.starts or c.swapcase() in symbols.starts):
            found += self._known(at)
        if c in symbols.exact or not any(e.cost == 0 and e.kind == "S" and e.end > at + 1 for e in found):
            found += self._indexed(at, at + 1, c, 0.0)
        elif text[at + 1 : at + 2] == "2":
            found += [e for e in self._indexed(at, at + 1, c, 0.0) if e.choice is not None and e.choice[1] == "power"]
        if not alone and (at == 0 or not text[at - 1].isalpha()):
            found += self._letter_index(at)
        if text.startswith("PI", at) and LETTER_RUN.fullmatch(text, at, at + 2) and not text[at + 2 : at + 3].isalnum():
            doubt = 0.3 if "P" in symbols.exact and "I" in symbols.exact else 0.0
            found.append(Edge(at, at + 2, "S", (self.tok("SYMBOL", ("π", True), at, at + 2),), doubt))
        if c == "p" and at > 0 and text[at - 1] in "24" and "p" not in symbols.exact:
            for edge in self._indexed(at, at + 1, "π", 0.7):
                if edge.toks[0].value == ("π", True):
                    edge.note = self.note("symbol-font", "“p” stands for π", at, at + 1)
                    found.append(edge)
        return found

    def _letter_index(self, at: int) -> list[Edge]:
        """vy, Rp: a letter with a letter for an index; the first choice where the response gives the two a value of their own."""
        found = _INDEX_LETTER.match(self.limit, at, self.area.end)
        symbols = self.area.symbols
        if found is None or found.group() in symbols.exact:
            return []
        pair, (stem, index) = found.group(), found.groups()
        both = index in symbols.exact  # Wf = 310 × 120, where W and f are quantities: the product first
        if both and (pair not in self.area.used or pair in usual_products()):
            return self._component(at, found.end(), stem, index)
        product = (0.0 if stem in symbols.exact else _UNKNOWN) + _UNKNOWN if symbols.exact else 2 * _UNKNOWN_TO_NOBODY
        own = (pair in self.area.used and pair not in usual_products()) or (index in "xy" and stem in "vu")
        if not own and (not symbols.exact or stem == index or pair in GREEK or units.is_unit_symbol(pair)):
            return []
        edge = self._symbol_edge(at, found.end(), pair, f"{stem}_{index}", 0.0)
        edge.cost = product + (0.6 if both else -0.1 if own else 0.2)
        return [edge]

    def _component(self, at: int, end: int, stem: str, index: str) -> list[Edge]:
        """ux where u and x are quantities: the component along x, as well as the product."""
        if not ((index in "xy" and stem in "uvaFpBE") or (stem.isupper() and index.islower() and index == stem.lower())):
            return []  # and F_f for a friction
        edge = self._symbol_edge(at, end, stem + index, f"{stem}_{index}", 0.0)
        edge.cost = 0.6
        return [edge]

    def _differential(self, at: int) -> list[Edge]:
        """dT for ΔT; the product stands too."""
        symbols, text = self.area.symbols, self.limit
        start = at + 2 if text[at + 1 : at + 2] == " " else at + 1
        if not text[start : start + 1].isalpha():
            return []
        found = []
        for inner in self._symbols(start, self._names(start)):
            if inner.kind != "S" or len(inner.toks) != 1 or inner.note is not None:
                continue
            name = inner.toks[0].value[0]
            known = key_of("Δ" + name) in symbols.exact
            if _RATE.match(text, at) or _RATE_OF.search(text, max(0, at - 12), at):
                known = not text[inner.end : inner.end + 1].isalpha()  # dΦ/dt, whatever changes
            joined = start == at + 1 and (not text[at - 1 : at].isalpha() or (text[at - 1] == "c" and name == "T"))  # mcdT
            if not known and not (joined and (symbols.exact or name in _CHANGING)):
                continue
            edge = self._symbol_edge(at, inner.end, key_of("Δ" + name), "Δ" + name, 0.0)
            own = 0.1 if key_of("Δ" + name) in symbols.exact else 0.2 if known else 0.45 if symbols.exact else 0.3
            edge.cost = own + (0.6 if text[at] in symbols.exact else 0.0)
            edge.note = self.note("differential", f"“{text[at : inner.end]}” is read as Δ{name}", at, inner.end)
            found.append(edge)
        return found

    def _symbol_edge(self, at: int, end: int, key: str, shown: str, cost: float) -> Edge:
        """An edge for a symbol whose spelling is `shown`; known to the part or not."""
        symbols = self.area.symbols
        name = symbols.exact.get(key)
        if name is not None:
            return Edge(at, end, "S", (self.tok("SYMBOL", (name, True), at, end),), cost)
        if key == "π":
            return Edge(at, end, "S", (self.tok("SYMBOL", ("π", True), at, end),), cost)
        other = symbols.folded.get(key.lower()) if symbols.folded and key.isascii() else None
        if other is not None and len(key) > 1 and not any(u != key and u.lower() == key.lower() for u in self.area.used):
            note = self.note("case", f"“{shown}” stands for {other}", at, end)
            return Edge(at, end, "S", (self.tok("SYMBOL", (other, True), at, end),), cost + 0.4, note)
        crossing = 0.4 if key == "x" and self.limit[at - 1 : at].isdigit() else 0.0
        return Edge(
            at,
            end,
            "S",
            (self.tok("SYMBOL", (shown, False), at, end),),
            max(0.0, cost + (_UNKNOWN if symbols.exact else _UNKNOWN_TO_NOBODY) + crossing),
        )

    def _known(self, at: int) -> list[Edge]:
        """Spellings of the part's symbols of two characters or more, as far as they match here without a mark between."""
        symbols, text = self.area.symbols, self.limit
        found = []
        for length in range(min(symbols.longest, len(text) - at), 1, -1):
            piece = text[at : at + length]
            if piece in symbols.exact and not any(c in " ^" for c in piece):
                end = at + length
                if piece[-1].isdigit() and text[end : end + 1].isdigit():
                    continue
                end, piece = self._with_primes(end, piece)
                if piece in symbols.exact:
                    found.append(self._symbol_edge(at, end, piece, piece, 0.0))
        run = LETTER_RUN.match(text, at)
        if run is not None and run.end() - at > 1 and not text[at - 1 : at].isalpha() and run.group() not in symbols.exact:
            end, key = run.end(), run.group()
            if key.lower() in symbols.folded and text[end : end + 1] != "_":
                found.append(self._symbol_edge(at, end, key, key, 0.0))
        return found

    def _with_primes(self, end: int, key: str) -> tuple[int, str]:
        if self.limit[end : end + 1] != "'":
            return end, key
        primes = _PRIMES.match(self.limit, end)
        return (end, key) if primes is None else (primes.end(), key + primes.group())

    def _greek_name(self, at: int, names: tuple[str, ...]) -> list[Edge]:
        text = self.limit
        if not text[at + 1 : at + 2].islower():
            return []
        for name in names:
            if text.startswith(name, at):
                end = at + len(name)
                free = not text[at - 1 : at].isalpha() or (text[at - 1] == "d" and not text[at - 2 : at - 1].isalpha())  # dPhi/dt
                alone = not text[end : end + 1].isalpha() and free
                if name not in ("pi", "theta", "lambda", "omega", "alpha", "beta", "gamma", "sigma") and not alone:
                    continue
                return self._indexed(at, end, GREEK.get(name, "π"), 0.0)
        return []

    def _change(self, at: int) -> list[Edge]:
        """ΔT, delta T, Δv_f: one symbol; Δ before a bracket stays a letter."""
        text = self.limit
        end = at + (1 if text[at] == "Δ" else 5)
        start = end
        while text[start : start + 1] in (" ", "_") and text[start : start + 1]:
            start += 1
        if start >= len(text) or not text[start].isalpha() or (start > end and text[at] == "Δ"):
            return []
        found = []
        for inner in self._symbols(start, self._names(start)):
            if inner.kind != "S" or len(inner.toks) != 1 or inner.note is not None:
                continue
            name = inner.toks[0].value[0].removeprefix("Δ")  # T may be the letter for ΔT already
            known = key_of("Δ" + name) in self.area.symbols.exact
            cost = inner.cost if not known else max(0.0, inner.cost - _UNKNOWN)
            found.append(self._symbol_edge(at, inner.end, key_of("Δ" + name), "Δ" + name, 0.0 if not known else cost))
        return found

    def _usual_names(self, at: int, names: tuple[str, ...]) -> list[Edge]:
        """KE, emf and other names of several letters that physics always has."""
        text = self.limit
        if at > self.area.start and text[at - 1].isalpha():
            return []
        for name in names:
            end = at + len(name)
            if text.startswith(name, at) and not text[end : end + 1].isalpha():
                edges = self._indexed(at, end, name, 0.0)
                for e in edges:
                    e.cost = min(e.cost, 0.3) if e.note is None else e.cost
                return edges
        return []

    def _indexed(self, at: int, end: int, stem: str, cost: float) -> list[Edge]:
        """A letter or name with its primes and index: v_0, v0, v'_1, R_total, v2 (index, lost square or factor)."""
        text = self.limit
        end_stem, key = self._with_primes(end, stem)
        following = text[end_stem : end_stem + 1]
        if following in ("∥", "⊥"):
            return [self._symbol_edge(at, end_stem + 1, key + following, f"{key}_{following}", cost)]
        if following == "_":
            index = _INDEX.match(text, end_stem)
            if index is not None:
                return self._with_index(at, end_stem, key, index, cost)
        elif following.isdigit():
            digits = _DIGITS.match(text, end_stem)
            if digits is not None and digits.end() - end_stem <= 2 and text[digits.end() : digits.end() + 1] != ".":
                return self._with_digits(at, end_stem, key, digits, cost)
        return [self._symbol_edge(at, end_stem, key, key, cost)]

    def _with_index(self, at: int, end: int, stem: str, index: re.Match[str], cost: float) -> list[Edge]:
        written = next(g for g in index.groups() if g is not None)
        stop, primes = index.end(), ""
        after = _PRIMES.match(self.limit, stop)
        if after is not None:
            stop, primes = after.end(), after.group()
        key = key_of(stem + written) + primes
        shown = f"{stem}_{written.strip()}{primes}" if written.strip().isalnum() else f"{stem}_({written.strip()}){primes}"
        whole = self._symbol_edge(at, stop, key, shown, cost)
        if whole.toks[0].value[1] or index.group(3) is None or primes:
            return [whole]
        found = [whole]
        for length in range(len(written) - 1, 0, -1):
            shorter = key_of(stem + written[:length])
            digit_end = written[:length].isdigit() and not written[length].isdigit()
            if shorter in self.area.symbols.exact or digit_end:
                extra = 0.0 if shorter in self.area.symbols.exact else 0.6
                found.append(self._symbol_edge(at, end + 1 + length, shorter, f"{stem}_{written[:length]}", cost + extra))
        return found

    def _with_digits(self, at: int, end: int, stem: str, digits: re.Match[str], cost: float) -> list[Edge]:
        number, symbols = digits.group(), self.area.symbols
        stop, typed = self._with_primes(digits.end(), stem + number)
        if stop > digits.end():  # v1', the speed after
            return [self._symbol_edge(at, stop, typed, f"{stem}_{number}{typed[len(stem + number) :]}", cost)]
        typed = stem + number
        alone = self._symbol_edge(at, end, stem, stem, cost)
        if typed in symbols.exact:
            known = self._symbol_edge(at, digits.end(), typed, typed, cost)
            power = number == "2" and stem + "#" not in self.area.used  # no I₁ beside it
            return [known, self._lost_power(at, end, digits, alone, cost + 0.6)] if power else [known]
        case = symbols.folded.get(typed.lower()) if stem not in symbols.exact else None
        index = self._symbol_edge(at, digits.end(), typed, f"{stem}_{number}", cost + (0.0 if case else 0.3))
        index.choice = (typed, "index")
        found = [index]
        if len(number) == 2 and number[0] != "0" and number[1] in "23":
            found.append(self._index_then_power(at, end, stem, number, cost))
        if number in ("2", "3", "4"):
            others = any(stem + d in symbols.exact for d in "01") or stem + "#" in self.area.used
            power_cost = (0.2 if stem in symbols.exact else 0.1) + (0.6 if others else 0.0) + (0.5 if number == "4" else 0.0)
            if number == "4" and stem == "T" and ("σ" in self.limit or "sigma" in self.limit):
                power_cost, index.cost = 0.1, index.cost + 0.3  # P = σAT4
            found.append(self._lost_power(at, end, digits, alone, alone.cost + power_cost))
        if number == "0":
            return found
        product_toks = (
            *alone.toks,
            self.tok("TIMES", "", end, end),
            self.tok("NUMBER", Number(text=number, value=float(number), half=0.5), end, digits.end()),
        )
        note = self.note("factor-after", f"{stem} times {number}", at, digits.end())
        before_pi = self.limit.startswith(("π", "pi"), digits.end()) and number in ("2", "4")  # σ4πr², I2πf
        found.append(Edge(at, digits.end(), "S", product_toks, alone.cost + (0.1 if before_pi else 1.5), note, (typed, "product")))
        return found

    def _lost_power(self, at: int, end: int, digits: re.Match[str], alone: Edge, cost: float) -> Edge:
        """v2 for v²."""
        number, stem = digits.group(), self.limit[at:end]
        note = self.note("lost-power", f"{stem} to the power {number}", at, digits.end())
        power = self.tok("NUMBER", Number(text=number, value=float(number)), end, digits.end())
        return Edge(at, digits.end(), "S", (*alone.toks, self.tok("POW", "^", end, end), power), cost, note, (stem + number, "power"))

    def _index_then_power(self, at: int, end: int, stem: str, number: str, cost: float) -> Edge:
        """r12 for r₁²: the figure of an index, and a lost superscript."""
        index = self._symbol_edge(at, end + 1, stem + number[0], f"{stem}_{number[0]}", cost)
        power = self.tok("NUMBER", Number(text=number[1], value=float(number[1])), end + 1, end + 2)
        note = self.note("lost-power", f"{stem} with the index {number[0]}, to the power {number[1]}", at, end + 2)
        toks = (*index.toks, self.tok("POW", "^", end + 1, end + 1), power)
        return Edge(at, end + 2, "S", toks, index.cost + (0.1 if index.toks[0].value[1] else 0.5), note, (stem + number, "index"))
