"""The three flows in a real browser: settle, overview, practise; by keyboard, over a reload, a kill, and two at once.

Accessibility is judged by axe-core (rules for WCAG 2.2 A and AA); the rest is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from tests.web.browsing import violations
from tests.web.running import Served

pytestmark = pytest.mark.browser


@pytest.fixture
def tab(browser: Any) -> Iterator[Any]:
    """A page of a browser profile of its own that remembers what went wrong in it."""
    with profile(browser) as page:
        yield page


@contextmanager
def profile(browser: Any, **more: Any) -> Iterator[Any]:
    """A page with cookies of its own; `page.faults` are the errors that its scripts and its policy report."""
    context = browser.new_context(**{"viewport": {"width": 1280, "height": 800}, **more})
    page = context.new_page()
    page.set_default_timeout(15_000)
    page.faults = []
    page.on("console", lambda m: page.faults.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda e: page.faults.append(str(e)))
    try:
        yield page
    finally:
        context.close()


def press(page: Any, key: str) -> None:
    """One key, once the page has come up and a person could have seen it."""
    page.wait_for_load_state("load")
    page.wait_for_timeout(400)
    page.keyboard.press(key)


def follow(page: Any, link: str) -> None:
    """One link, and the page it leads to come up whole: a click alone returns while the old page still stands."""
    with page.expect_navigation():
        page.click(link)


def _taken(page: Any) -> None:
    """Waits until a line has been taken in: its field is empty again."""
    page.locator("#line:placeholder-shown").wait_for()


def come_in(page: Any, served: Served) -> None:
    page.goto(served.link)
    assert page.title() == "Class tests – marker"


def test_settling_by_keyboard_alone(tab: Any, served: Served) -> None:
    come_in(tab, served)
    for _ in range(12):
        press(tab, "Tab")
        if tab.evaluate("document.activeElement.textContent") == "Settle":
            break
    press(tab, "Enter")
    tab.wait_for_selector("text=1a: 2 responses alike")
    press(tab, "r")
    tab.keyboard.type("12 and m are only typed here")
    press(tab, "Escape")
    press(tab, "2")
    tab.wait_for_selector("text=Settled 2 alike responses to 1a: 2 marks of 3.")
    press(tab, "u")
    tab.wait_for_selector("text=Taken back for 2 responses")
    tab.wait_for_selector("text=1 of 3 groups; 8 responses wait")
    press(tab, "n")
    tab.wait_for_selector("text=2 of 3 groups")
    press(tab, "b")
    tab.wait_for_selector("text=1 of 3 groups")
    press(tab, "1")
    tab.wait_for_selector("text=1a: 1 response")
    press(tab, "m")
    press(tab, "Tab")
    press(tab, "Enter")
    tab.wait_for_selector("text=Settled 1a of candidate c08: 1 mark of 3.")
    press(tab, "2")
    tab.wait_for_selector("text=Everything is settled.")
    follow(tab, "text=Record")
    text = tab.inner_text("main")
    assert text.count("12 and m are only typed here") == 1
    assert "taken back" in text
    assert tab.faults == []


def test_single_keys_can_be_turned_off(tab: Any, served: Served) -> None:
    """WCAG 2.2, criterion 2.1.4: character key shortcuts can be turned off."""
    come_in(tab, served)
    tab.goto(served.base + "/tests/1/settle/next")
    tab.click("summary:has-text('Keys')")
    tab.uncheck("#single-keys")
    press(tab, "2")
    tab.reload()
    press(tab, "2")
    tab.wait_for_timeout(300)
    assert "1 of 3 groups; 8 responses wait" in tab.inner_text("main")


def test_a_digit_pressed_twice_decides_once(tab: Any, served: Served) -> None:
    come_in(tab, served)
    tab.goto(served.base + "/tests/1/settle/next")
    press(tab, "1")
    tab.keyboard.press("1")
    tab.wait_for_selector("text=Settled 2 alike responses")
    tab.keyboard.press("1")
    tab.wait_for_timeout(500)
    assert "2 of 3 groups; 6 responses wait" in tab.inner_text("main")


def test_a_reload_and_a_kill_in_the_middle_lose_nothing(tab: Any, served: Served) -> None:
    come_in(tab, served)
    tab.goto(served.base + "/tests/1/settle/next")
    tab.click("button:has-text('Give 2 marks to all 2')")
    tab.wait_for_selector("text=1a: 1 response")
    tab.fill("#reason", "half a sentence")
    tab.reload()
    assert tab.input_value("#reason") == "half a sentence"
    served.kill()
    served.again()
    tab.click("button:has-text('Give 0 marks')")
    tab.wait_for_selector("text=Settled 1a of candidate c08: 0 marks of 3.")
    served.kill()
    served.again()
    tab.goto(served.base + "/tests/1/record")
    text = tab.inner_text("main")
    assert "half a sentence" in text
    assert "2 responses" in text
    tab.goto(served.base + "/tests/1/settle/next")
    assert tab.input_value("#reason") == ""
    assert "5 responses wait" in tab.inner_text("main")


def test_two_browsers_settle_the_same_referral(browser: Any, served: Served) -> None:
    with profile(browser) as one, profile(browser) as two:
        for page in (one, two):
            come_in(page, served)
            page.goto(served.base + "/tests/1/settle/next")
        one.fill("#reason", "the first of two")
        one.click("button:has-text('Give 1 mark to all 2')")
        one.wait_for_selector("text=Settled 2 alike responses")
        two.fill("#reason", "the second of two")
        two.click("button:has-text('Give 2 marks to all 2')")
        two.wait_for_selector("text=Someone was here before you")
        told = two.inner_text("[role=alert]")
        assert "the first of two" in told
        assert "gave 1 mark" in told
        assert "the second of two" in told
        assert violations(two) == []
        two.click("button:has-text('Give 2 marks instead')")
        two.wait_for_selector("text=Settled 2 alike responses to 1a: 2 marks of 3.")
        two.goto(served.base + "/tests/1/record")
        record = two.inner_text("main")
        assert "the first of two" in record
        assert "the second of two" in record


def test_a_hostile_response_stays_text(tab: Any, served: Served) -> None:
    come_in(tab, served)
    for path in ("/tests/1", "/tests/1/settle", "/tests/1/settle/next"):
        tab.goto(served.base + path)
    press(tab, "n")
    tab.wait_for_selector("text=As typed by candidate c08")
    assert "<script>document.title='broken'</script>" in tab.inner_text(".script")
    assert "broken" not in tab.title()
    assert tab.locator("main img, main script, main i").count() == 0
    tab.goto(served.base + "/practise/1/1")
    tab.fill("#line", "<img src=x onerror=\"document.title='broken'\"><script>document.title='broken'</script>")
    tab.click("text=Check it")
    tab.wait_for_selector("#working .lines li")
    assert tab.locator("main img, main script").count() == 0
    assert "broken" not in tab.title()
    assert tab.faults == []


def test_the_class_at_a_glance(tab: Any, served: Served) -> None:
    come_in(tab, served)
    follow(tab, "text=Overview")
    assert tab.locator("table.grid tbody tr").count() == 12
    first = tab.locator("table.grid tbody tr").first
    assert first.locator("th").inner_text() == "c01"
    assert first.locator("a.waiting").inner_text().split() == ["2?", "of", "3,", "waits", "for", "you"]
    faults = tab.inner_text("ol.faults")
    assert "I = 230/46" in faults
    assert "2 candidates" in faults
    follow(tab, "tr:has-text('c09') td:nth-child(2) a")
    assert "candidate c09" in tab.inner_text("h1")
    with tab.expect_download() as got:
        tab.goto(served.base + "/tests/1")
        tab.click("text=Workbook")
    assert got.value.suggested_filename.endswith(".xlsx")


def test_practising_from_the_first_line_to_the_last(tab: Any, served: Served) -> None:
    tab.goto(served.base)
    tab.fill("#name", "Nia")
    follow(tab, "text=Start practising")
    follow(tab, ".choose a:has-text('1a')")
    values = tab.eval_on_selector_all(".given div", "all => all.map(d => [d.children[0].textContent, d.children[1].textContent])")
    power, voltage = (float(dict(values)[k].split()[0]) for k in ("P", "V"))
    assert (power, voltage) != (46.0, 230.0)
    assert f"{voltage:g} V" in tab.inner_text(".stem")

    tab.keyboard.type("P = I/V")
    tab.keyboard.press("Enter")
    tab.wait_for_selector("#working li.bad")
    assert "not right" in tab.inner_text("#working")
    assert tab.locator("#working math mfrac").count() == 1
    for n, name in enumerate(("A hint", "A stronger hint", "The strongest hint", "Show the next step"), start=1):
        tab.click(f"#help button:has-text('{name}')")
        tab.wait_for_selector(f".hints li:nth-child({n})")
    assert tab.inner_text(".hints li:nth-child(4)").split("\n")[0].endswith("P = IV")
    tab.click("text=Take back")
    tab.wait_for_selector("#working .lines li", state="detached")
    for line in ("P = IV", f"{power:g} = I × {voltage:g}", f"I = {power / voltage:.2g} A"):
        tab.fill("#line", line)
        tab.keyboard.press("Enter")
        _taken(tab)
    tab.wait_for_selector("text=Complete.")
    tab.reload()
    assert tab.locator("#working .lines li").count() >= 3
    assert "Complete." in tab.inner_text("main")
    served.kill()
    served.again()
    tab.goto(served.base + "/practise")
    assert "done" in tab.inner_text(".choose a:has-text('1a')")
    follow(tab, ".choose a:has-text('1a')")
    follow(tab, "text=New numbers")
    assert tab.locator("#working .lines li").count() == 0
    again = tab.eval_on_selector_all(".given div", "all => all.map(d => d.children[1].textContent)")
    assert again != [v for _, v in values]
    assert tab.faults == []


def test_practice_works_without_scripts(browser: Any, served: Served) -> None:
    with profile(browser, java_script_enabled=False) as page:
        page.goto(served.base)
        follow(page, "text=Start practising")
        follow(page, ".choose a:has-text('2')")
        page.fill("#line", "p = ρgh")
        follow(page, "text=Check it")
        assert page.locator("#working li.good").count() == 1
        assert page.locator("#working .lines li").count() == 1


SHAPES = (
    ("narrow, light", {"viewport": {"width": 360, "height": 740}, "color_scheme": "light"}),
    ("wide, dark", {"viewport": {"width": 1280, "height": 800}, "color_scheme": "dark"}),
)


@pytest.mark.parametrize("shape", [s[1] for s in SHAPES], ids=[s[0] for s in SHAPES])
def test_every_page_is_accessible_and_fits(shape: dict[str, Any], browser: Any, served: Served) -> None:
    with profile(browser, **shape) as page:
        page.goto(served.base)
        found = {"/": _faults_of(page)}
        come_in(page, served)
        paths = (
            "/",
            "/tests/1",
            "/tests/1/settle",
            "/tests/1/settle/next",
            "/tests/1/responses/2",
            "/tests/new",
            "/people",
            "/you",
            "/practise",
        )
        for path in paths:
            page.goto(served.base + path)
            found[f"teacher {path}"] = _faults_of(page)
        page.goto(served.base + "/tests/1/settle/next")
        page.click("button:has-text('Give 2 marks to all 2')")
        page.wait_for_selector(".said")
        found["said"] = _faults_of(page)
        for path in ("/tests/1/record", "/tests/1/settle?state=all", "/nowhere"):
            page.goto(served.base + path)
            found[path] = _faults_of(page)
        page.goto(served.base + "/people")
        page.fill("#names", "Nia\nOmar")
        page.click("text=Add, with a code for each")
        found["codes"] = _faults_of(page)
        page.goto(served.base + "/practise/1/2")
        for line in ("E = mgh", "P = E t", "one two three ((", "it rises"):
            page.fill("#line", line)
            page.click("text=Check it")
            _taken(page)
        page.click("#help button")
        page.wait_for_selector(".hints li")
        found["practise"] = _faults_of(page)
        assert {k: v for k, v in found.items() if v} == {}


def _faults_of(page: Any) -> list[str]:
    width = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return violations(page) + ([f"{width} pixels too wide"] if width > 0 else [])
