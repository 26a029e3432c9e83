"""Straight lines through readings: least squares, through the origin, between two points, and the steepest and shallowest that fit.

Plain Python. Sums are exact (math.fsum) about the means, which is enough to give NIST's certified values to a dozen figures.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightLine:
    """y = gradient × x + intercept. Standard errors are nan where the readings are too few to give them.

    residual_deviation  standard deviation of the residuals, in y's unit;  r_squared  share of the spread explained (about nought for a
    line through the origin, as NIST gives it)
    """

    gradient: float
    intercept: float = 0.0
    gradient_error: float = math.nan
    intercept_error: float = math.nan
    residual_deviation: float = math.nan
    r_squared: float = math.nan

    def at(self, x: float) -> float:
        return self.gradient * x + self.intercept


def _checked(xs: Sequence[float], ys: Sequence[float], least: int) -> int:
    if len(xs) != len(ys):
        raise ValueError(f"{len(xs)} values of x and {len(ys)} of y")
    if len(xs) < least:
        raise ValueError(f"at least {least} points are needed")
    if not all(map(math.isfinite, (*xs, *ys))):
        raise ValueError("a reading is not a finite number")
    return len(xs)


def least_squares(xs: Sequence[float], ys: Sequence[float]) -> StraightLine:
    """The least squares line of y on x with its standard errors. Raises ValueError when x does not vary or lengths differ."""
    n = _checked(xs, ys, 2)
    x_mean, y_mean = math.fsum(xs) / n, math.fsum(ys) / n
    u, v = [x - x_mean for x in xs], [y - y_mean for y in ys]
    suu = math.fsum(a * a for a in u)
    if suu == 0.0:
        raise ValueError("all values of x are the same")
    gradient = math.fsum(a * b for a, b in zip(u, v, strict=True)) / suu
    intercept = y_mean - gradient * x_mean
    left_over = math.fsum((b - gradient * a) ** 2 for a, b in zip(u, v, strict=True))
    spread = math.fsum(b * b for b in v)
    deviation = math.sqrt(left_over / (n - 2)) if n > 2 else math.nan
    return StraightLine(
        gradient=gradient,
        intercept=intercept,
        gradient_error=deviation / math.sqrt(suu),
        intercept_error=deviation * math.sqrt(1.0 / n + x_mean * x_mean / suu),
        residual_deviation=deviation,
        r_squared=1.0 - left_over / spread if spread else math.nan,
    )


def through_origin(xs: Sequence[float], ys: Sequence[float]) -> StraightLine:
    """The least squares line forced through the origin. Raises ValueError when every x is nought."""
    n = _checked(xs, ys, 1)
    sxx = math.fsum(x * x for x in xs)
    if sxx == 0.0:
        raise ValueError("every value of x is nought")
    gradient = math.fsum(x * y for x, y in zip(xs, ys, strict=True)) / sxx
    left_over = math.fsum((y - gradient * x) ** 2 for x, y in zip(xs, ys, strict=True))
    spread = math.fsum(y * y for y in ys)
    deviation = math.sqrt(left_over / (n - 1)) if n > 1 else math.nan
    return StraightLine(
        gradient=gradient,
        gradient_error=deviation / math.sqrt(sxx),
        intercept_error=0.0,
        residual_deviation=deviation,
        r_squared=1.0 - left_over / spread if spread else math.nan,
    )


def between(first: Point, second: Point) -> StraightLine:
    """The line through two points. Raises ValueError when they stand above one another."""
    run = second[0] - first[0]
    if run == 0.0:
        raise ValueError("the two points have the same x")
    gradient = (second[1] - first[1]) / run
    return StraightLine(gradient=gradient, intercept=first[1] - gradient * first[0])


def residuals(line: StraightLine, xs: Sequence[float], ys: Sequence[float]) -> tuple[float, ...]:
    """How far each reading lies above the line, in y's unit."""
    return tuple(y - line.at(x) for x, y in zip(xs, ys, strict=True))


def off_the_line(line: StraightLine, points: Sequence[Point], tolerance: float) -> tuple[int, ...]:
    """Places (from 0) of the points further from the line, along y, than the tolerance."""
    return tuple(i for i, (x, y) in enumerate(points) if abs(y - line.at(x)) > tolerance)


def outliers(xs: Sequence[float], ys: Sequence[float], times: float = 4.0, floor: float = 0.0) -> tuple[int, ...]:
    """Places of readings that do not belong to the straight line the other readings make.

    Each reading is judged against the line through the others: it is out when it lies further from it than `times` their residual
    deviation, and further than `floor` (in y's unit, for instance half the last place of a reading). The worst goes first, then the rest
    are judged again, as long as four are left and fewer than a third have gone.
    """
    n = _checked(xs, ys, 2)
    kept: list[int] = list(range(n))
    out: list[int] = []
    while len(kept) > 4 and 3 * (len(out) + 1) <= n:
        worst, distance, limit = _furthest(xs, ys, kept)
        if distance <= max(times * limit, floor):
            break
        kept.remove(worst)
        out.append(worst)
    return tuple(sorted(out))


def _furthest(xs: Sequence[float], ys: Sequence[float], kept: list[int]) -> tuple[int, float, float]:
    """The reading furthest from the line of the others in units of their deviation: its place, distance and their deviation."""
    best = (kept[0], 0.0, math.inf)
    for i in kept:
        rest = [j for j in kept if j != i]
        try:
            line = least_squares([xs[j] for j in rest], [ys[j] for j in rest])
        except ValueError:
            continue
        size = max(abs(y) for y in ys) or 1.0
        deviation = max(line.residual_deviation, 1e-12 * size)
        distance = abs(ys[i] - line.at(xs[i]))
        if distance / deviation > best[1] / best[2]:
            best = (i, distance, deviation)
    return best


def extreme_lines(
    xs: Sequence[float], ys: Sequence[float], dxs: Sequence[float], dys: Sequence[float]
) -> tuple[StraightLine, StraightLine] | None:
    """(shallowest, steepest) straight lines that pass through every error box, or None when no straight line does.

    dxs, dys    half-widths of the error boxes, in the units of x and y; noughts give plain bars or bare points.
    Gradient here means the number, so for a falling line the "shallowest" is the most negative.
    The extreme lines touch corners of two boxes, so every pair of corners is tried.
    """
    _checked(xs, ys, 2)
    boxes = [(x, y, abs(a), abs(b)) for x, y, a, b in zip(xs, ys, dxs, dys, strict=True)]
    corners = [[(x + s * a, y + t * b) for s in (-1, 1) for t in (-1, 1)] for x, y, a, b in boxes]
    slack = 1e-9 * max(1e-300, *(abs(y) + b for _, y, _, b in boxes))
    fitting: list[StraightLine] = []
    for i in range(len(boxes)):
        for j in range(i + 1, len(boxes)):
            for p in corners[i]:
                for q in corners[j]:
                    if p[0] != q[0]:
                        line = between(p, q)
                        if all(_meets(line, box, slack) for box in boxes):
                            fitting.append(line)
    if not fitting:
        return None
    return min(fitting, key=lambda m: m.gradient), max(fitting, key=lambda m: m.gradient)


def _meets(line: StraightLine, box: tuple[float, float, float, float], slack: float) -> bool:
    x, y, a, b = box
    reach = b + abs(line.gradient) * a
    return abs(y - line.at(x)) <= reach + slack


def corner_lines(xs: Sequence[float], ys: Sequence[float], dys: Sequence[float]) -> tuple[StraightLine, StraightLine]:
    """(shallowest, steepest) by the quick school way: from one end of the first bar to the other end of the last."""
    _checked(xs, ys, 2)
    first, last = min(range(len(xs)), key=lambda i: xs[i]), max(range(len(xs)), key=lambda i: xs[i])
    up = between((xs[first], ys[first] - dys[first]), (xs[last], ys[last] + dys[last]))
    down = between((xs[first], ys[first] + dys[first]), (xs[last], ys[last] - dys[last]))
    return (down, up) if down.gradient <= up.gradient else (up, down)


def gradient_uncertainty(lines: tuple[StraightLine, StraightLine]) -> float:
    """Half the difference of the extreme gradients, in the gradient's unit."""
    return abs(lines[1].gradient - lines[0].gradient) / 2.0
