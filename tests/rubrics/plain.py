"""Evaluates the plain notation of the sheets in tests: numbers, quantities with units, or symbols, whatever the values are.

Only for the package's own data, never for what a candidate typed. It is built on the standard library's
syntax tree with a short list of node types, so that it shares nothing with the reader it helps to test.
"""

import ast
import operator
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

OPERATORS: Mapping[type, Callable[..., Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
FUNCTIONS = ("sqrt", "sin", "cos", "tan", "ln", "exp", "log10")


@lru_cache(maxsize=4096)
def parse(text: str) -> ast.expr:
    return ast.parse(text.replace("^", "**"), mode="eval").body


def sides(equation: str) -> tuple[str, str]:
    """The two sides of "left = right". Raises ValueError unless there is exactly one "="."""
    left, right = equation.split("=")
    return left.strip(), right.strip()


def letters(text: str) -> frozenset[str]:
    """Symbols of an expression or equation; pi and the functions are not symbols."""
    named = {n.id for part in text.split("=") for n in ast.walk(parse(part.strip())) if isinstance(n, ast.Name)}
    return frozenset(named - {"pi", *FUNCTIONS})


def evaluate(text: str, values: Mapping[str, Any], functions: Mapping[str, Any]) -> Any:
    """Value of an expression. `functions` has the seven functions and "pi". Raises ValueError on anything not plain."""
    return _value(parse(text), values, functions)


def _value(node: ast.expr, values: Mapping[str, Any], functions: Mapping[str, Any]) -> Any:
    match node:
        case ast.Constant(value=int() | float() as number):
            return number
        case ast.Name(id="pi"):
            return functions["pi"]
        case ast.Name(id=name):
            return values[name]
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            return -_value(inner, values, functions)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in OPERATORS:
            return OPERATORS[type(op)](_value(left, values, functions), _value(right, values, functions))
        case ast.Call(func=ast.Name(id=name), args=[inner], keywords=[]) if name in FUNCTIONS:
            return functions[name](_value(inner, values, functions))
    raise ValueError(f"not plain notation: {ast.unparse(node)}")
