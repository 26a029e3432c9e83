"""A page as PDF, where a browser of the Chromium family is installed. The browser is given no network and runs no script of the page."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

from marker.errors import OutputError, Problem
from marker.reporting.atomic import replacing

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge")
_SECONDS = 300


def browser() -> str | None:
    """Path of the first browser that can print, None when there is none."""
    return next((found for name in BROWSERS if (found := shutil.which(name))), None)


def write_pdf(page: Path, pdf: Path) -> None:
    """Print a page of `write_feedback` to PDF. Raises OutputError when no browser is installed, or printing fails."""
    program = browser()
    if program is None:
        mend = "Install Chromium, or open the page in a browser and print it."
        raise OutputError(Problem(where=str(pdf), seen="no browser that can print is installed", mend=mend))
    with replacing(pdf) as temporary, TemporaryDirectory() as profile:
        options = ["--headless", "--disable-gpu", "--no-pdf-header-footer", "--disable-background-networking", f"--user-data-dir={profile}"]
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            options.append("--no-sandbox")  # the sandbox refuses to start for root; the page holds no script
        command = [program, *options, f"--print-to-pdf={temporary}", page.resolve().as_uri()]
        try:
            done = subprocess.run(command, capture_output=True, timeout=_SECONDS, check=False)
        except subprocess.TimeoutExpired:
            raise OutputError(_failed(pdf, "the browser did not finish")) from None
        if done.returncode != 0 or not temporary.read_bytes().startswith(b"%PDF"):
            raise OutputError(_failed(pdf, "the browser could not print the page"))


def _failed(pdf: Path, seen: str) -> Problem:
    return Problem(where=str(pdf), seen=seen, mend="Open the page in a browser and print it.")
