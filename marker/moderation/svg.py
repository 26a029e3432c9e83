"""The charts as inline SVG: one ink, shapes and labels instead of colours, readable without sight by title and description."""

from __future__ import annotations

import math
from collections.abc import Callable
from html import escape

from marker.moderation.chartdata import Bars, Chart

WIDE, HIGH = 460, 340
LEFT, RIGHT, TOP, BOTTOM = 52, 16, 14, 46


def ticks(low: float, high: float, wanted: int = 5) -> list[float]:
    """Round values from low to high, about as many as wanted."""
    span = high - low
    if not math.isfinite(span) or span <= 0:
        return [low]
    raw = span / wanted
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(s * power for s in (1, 2, 2.5, 5, 10) if s * power >= raw - 1e-12)
    first = math.ceil(low / step - 1e-9)
    return [round(k * step, 10) for k in range(first, math.floor(high / step + 1e-9) + 1)]


def scatter(chart: Chart) -> str:
    """A scatter chart; coinciding points are drawn larger."""
    px, py = _scales(chart)
    body = [_frame(chart.x, chart.y)]
    for x in ticks(*chart.x_range):
        body.append(f'<text class="tick" x="{px(x):.1f}" y="{HIGH - BOTTOM + 16}" text-anchor="middle">{_label(x)}</text>')
    for y in ticks(*chart.y_range):
        body.append(f'<line class="grid" x1="{LEFT}" x2="{WIDE - RIGHT}" y1="{py(y):.1f}" y2="{py(y):.1f}"/>')
        body.append(f'<text class="tick" x="{LEFT - 6}" y="{py(y) + 4:.1f}" text-anchor="end">{_label(y)}</text>')
    for i, (name, (x1, y1), (x2, y2)) in enumerate(chart.lines):
        dash = ' stroke-dasharray="6 4"' if "limit" in name else ""
        body.append(f'<line class="line" x1="{px(x1):.1f}" y1="{py(y1):.1f}" x2="{px(x2):.1f}" y2="{py(y2):.1f}"{dash}/>')
        if y1 == y2:
            up = py(y1) - 5 if i != 0 else py(y1) + 13
            body.append(f'<text class="name" x="{WIDE - RIGHT}" y="{up:.1f}" text-anchor="end">{escape(name)}</text>')
    for x, y, count in chart.points:
        radius = 3.5 + 1.5 * math.sqrt(count - 1)
        body.append(f'<circle class="dot" cx="{px(x):.1f}" cy="{py(y):.1f}" r="{radius:.1f}"/>')
    described = f"{sum(n for _, _, n in chart.points)} {chart.of}; " + "; ".join(name for name, _, _ in chart.lines)
    return _svg(chart.title, described, body, HIGH)


def _scales(chart: Chart) -> tuple[Callable[[float], float], Callable[[float], float]]:
    (x0, x1), (y0, y1) = chart.x_range, chart.y_range
    across, up = (WIDE - LEFT - RIGHT) / ((x1 - x0) or 1), (HIGH - TOP - BOTTOM) / ((y1 - y0) or 1)
    return (lambda x: LEFT + (x - x0) * across), (lambda y: HIGH - BOTTOM - (y - y0) * up)


def _frame(x: str, y: str) -> str:
    middle = (TOP + HIGH - BOTTOM) / 2
    return (
        f'<line class="axis" x1="{LEFT}" x2="{WIDE - RIGHT}" y1="{HIGH - BOTTOM}" y2="{HIGH - BOTTOM}"/>'
        f'<line class="axis" x1="{LEFT}" x2="{LEFT}" y1="{TOP}" y2="{HIGH - BOTTOM}"/>'
        f'<text class="label" x="{(LEFT + WIDE - RIGHT) / 2}" y="{HIGH - 8}" text-anchor="middle">{escape(x)}</text>'
        f'<text class="label" transform="translate(14 {middle}) rotate(-90)" text-anchor="middle">{escape(y)}</text>'
    )


def _label(value: float) -> str:
    return f"{value:g}".replace("-", "−")


def bars(chart: Bars) -> str:
    """Horizontal bars, one for each part, with the interval (where there is one) as a line, and the value in figures."""
    row, left, right = 24, 96, 64
    height = 2 * 14 + row * len(chart.names)
    across = WIDE - left - right
    body = []
    for i, (name, value) in enumerate(zip(chart.names, chart.values, strict=True)):
        y = 14 + row * i
        label = name if len(name) <= 12 else name[:11] + "…"
        body.append(f'<text class="tick" x="{left - 8}" y="{y + 15}" text-anchor="end">{escape(label)}</text>')
        body.append(f'<rect class="bar" x="{left}" y="{y + 4}" width="{across * value:.1f}" height="{row - 9}"/>')
        if chart.intervals:
            low, high = (left + across * end for end in chart.intervals[i])
            body.append(f'<line class="line" x1="{low:.1f}" x2="{high:.1f}" y1="{y + 11.5}" y2="{y + 11.5}"/>')
        body.append(f'<text class="tick" x="{WIDE - right + 8}" y="{y + 15}">{100 * value:.0f} %</text>')
    described = "; ".join(f"{name} {100 * value:.0f} %" for name, value in zip(chart.names, chart.values, strict=True))
    return _svg(chart.title, described, body, height)


def _svg(title: str, described: str, body: list[str], height: float) -> str:
    return (
        f'<svg viewBox="0 0 {WIDE} {height}" role="img" aria-label="{escape(title)}">'
        f"<title>{escape(title)}</title><desc>{escape(described)}</desc>{''.join(body)}</svg>"
    )
