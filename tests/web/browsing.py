"""A real browser for the tests: Debian's Chromium driven by Playwright, and the accessibility check run in it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import resources
from typing import Any

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")


class NoBrowser(Exception):
    """Why none can be driven here."""


@contextmanager
def chromium() -> Iterator[Any]:
    """A running browser. Raises NoBrowser with the reason."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        raise NoBrowser("Chromium is not installed")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        raise NoBrowser("the package playwright is not installed") from None
    with sync_playwright() as driver:
        running = driver.chromium.launch(executable_path=program, args=list(ARGUMENTS))
        try:
            yield running
        finally:
            running.close()


def violations(page: Any) -> list[str]:
    """What axe-core finds against WCAG 2.2 A and AA and its best practices: rule, element and reason of each."""
    if not page.evaluate("typeof axe !== 'undefined'"):
        script = resources.files("axe_playwright_python") / "axe.min.js"
        page.evaluate(script.read_text(encoding="utf-8"))
    found = page.evaluate("async (rules) => await axe.run(document, {runOnly: {type: 'tag', values: rules}})", list(RULES))
    return [f"{v['id']}: {n['target']} {n['failureSummary']}" for v in found["violations"] for n in v["nodes"]]
