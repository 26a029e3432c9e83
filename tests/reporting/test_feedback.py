"""Feedback sheets: safe whatever was typed, legible in both colour schemes and on a narrow screen, kind and exact in their words."""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

pytest.importorskip("jinja2", reason="Jinja2 is not installed; feedback sheets need it")

from marker.errors import OutputError
from marker.reporting import Decision, Decisions, MarkedPaper, paper_of_results, write_feedback
from marker.reporting.faults import fault_words
from marker.reporting.feedback import write_pdf
from marker.reporting.feedback.mathml import safe_mathml
from marker.reporting.feedback.pdf import browser
from marker.reporting.feedback.view import sheets
from marker.reporting.feedback.wording import wording
from marker.reporting.feedback.write import BUNDLE
from marker.results import Award, FaultFound, LineReport, Outcome, OwnValue, PartResult, Possibility, Referral

from .invented import PARTS, marked_paper

MARKED = marked_paper(6)
ANSWERS = {p.name: p.lines for p in PARTS}
VOID = {"meta", "link", "br", "img", "input", "hr"}


class Page(HTMLParser):
    """What a page holds: elements in order, their attributes, the text; raises on an element closed in the wrong place."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str, str]] = []
        self.text = ""
        self._open: list[str] = []
        self.feed(html)
        self.close()
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(tag, name, value or "") for name, value in attrs]
        if tag not in VOID:
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self._open[-1:] != ["style"]:
            self.text += data


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    folder = tmp_path_factory.mktemp("feedback") / "new" / "folder"
    written = write_feedback(folder, MARKED, None, ANSWERS)
    assert written[-1].name == BUNDLE and len(written) == len(MARKED.candidates) + 1
    return {p.name: p.read_text(encoding="utf-8") for p in written}


def test_every_page_stands_alone(pages: dict[str, str]) -> None:
    for html in pages.values():
        page = Page(html)
        assert not {"script", "link", "img", "iframe", "object", "form"} & set(page.tags)
        assert all(v.startswith("#") for _, name, v in page.attributes if name in ("href", "src"))
        assert ("meta", "content", "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'") in page.attributes
        assert "url(" not in html and "@import" not in html
        assert ("html", "lang", "en") in page.attributes
        ids = [v for _, name, v in page.attributes if name == "id"]
        assert len(ids) == len(set(ids))
        assert {v[1:] for _, name, v in page.attributes if name == "href"} <= set(ids)


def test_a_page_holds_one_candidate_only(pages: dict[str, str]) -> None:
    for name in MARKED.candidates:
        text = Page(pages[f"candidate-{name}.html"]).text
        assert name in text
        assert not [other for other in MARKED.candidates if other != name and other in text]


def test_each_line_as_typed_with_words_and_sign(pages: dict[str, str]) -> None:
    words = wording()
    for candidate in MARKED.candidates:
        text = " ".join(Page(pages[f"candidate-{candidate}.html"]).text.split())
        for part, _ in MARKED.parts:
            for line in MARKED.results[candidate, part].lines:
                verdict = words.verdict(line.verdict)
                assert line.text in text
                assert f"{verdict.sign} {verdict.text}" in text


def test_the_next_step_comes_before_the_folded_solution(pages: dict[str, str]) -> None:
    html = pages["candidate-c02.html"]
    page = Page(html)
    assert "details" in page.tags and ("details", "open", "") not in page.attributes
    for section in html.split('<section class="part"')[1:]:
        if 'class="next"' in section:
            assert section.index('class="next"') < section.index("<details>")


HOSTILE = (
    "<script>alert(1)</script>",
    "</style><script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "' onmouseover='alert(1)",
    "{{ 7 * 7 }}{% raw %}",
    "javascript:alert(1)",
    "&lt;b&gt; &amp;amp;",
    "a\x00\x1b\x7f\ud800z",
)


@pytest.mark.parametrize("text", HOSTILE, ids=ascii)
def test_hostile_text_is_only_text(tmp_path: Path, text: str) -> None:
    result = PartResult(
        part=text,
        mark=1,
        maximum=3,
        awards=(Award(point=text, kind=text, mark=1, maximum=3, outcome=Outcome.EARNED, reason=text, lines=(1,), followed_through=True),),
        faults=(
            FaultFound(code=text, line=1, teacher=text, student=text),
            FaultFound(code=text, line=None, teacher=text, student=text + "!"),
        ),
        lines=tuple(
            LineReport(number=n, text=text, readings=(text + " read",), verdict=v, note=text, columns=(1, 3), mathml=m)
            for n, (v, m) in enumerate((("wrong", ""), (text, text), ("right", f"<math><mi onclick='x'>{'<script>'}</mi></math>")), start=1)
        ),
        referral=Referral(reason=text, possibilities=(Possibility(text=text, mark=1),)),
        own=(OwnValue(symbol=text, value=1.0, typed=text, unit=text, right=False),),
        notes=(text,),
    )
    marked = replace(
        MARKED, title=text, candidates=(text,), parts=((text, 3.0),), groups={text: text}, results={(text, text): result}, notes=(text,)
    )
    decisions = Decisions(made={(text, text): Decision(mark=2, note=text)})
    for path in write_feedback(tmp_path, marked, decisions, {text: (text,)}):
        assert path.parent == tmp_path
        page = Page(path.read_text(encoding="utf-8"))
        assert not {"script", "img"} & set(page.tags)
        assert not [a for a in page.attributes if a[1].startswith("on")]
        assert "".join(c for c in text if c.isprintable() and not 0xD800 <= ord(c) < 0xE000) in page.text
        assert "49" not in page.text


MATHML = (
    ("<math><mfrac><mi>V</mi><mi>R</mi></mfrac></math>", '<math display="inline"><mfrac><mi>V</mi><mi>R</mi></mfrac></math>'),
    ("<math display='block'><mo>&lt;</mo></math>", '<math display="inline"><mo>&lt;</mo></math>'),
    (
        "<math><mi>a</mi></math><math><mi>b</mi></math>",
        '<math display="inline"><mi>a</mi></math> ; <math display="inline"><mi>b</mi></math>',
    ),
    ('<math><mi onclick="x()" mathvariant="normal">a</mi></math>', '<math display="inline"><mi mathvariant="normal">a</mi></math>'),
    ('<math xmlns="http://www.w3.org/1998/Math/MathML"><mi>a</mi></math>', '<math display="inline"><mi>a</mi></math>'),
    (
        "<math><mrow><math><mi>a</mi></math><mo>=</mo><math><mn>2</mn></math></mrow></math>",
        '<math display="inline"><mrow><mrow><mi>a</mi></mrow><mo>=</mo><mrow><mn>2</mn></mrow></mrow></math>',
    ),
    ("", ""),
    ("plain text", ""),
    ("<math><script>alert(1)</script></math>", ""),
    ("<math><mtext><img src='x'/></mtext></math>", ""),
    ('<math><annotation-xml encoding="text/html"><b/></annotation-xml></math>', ""),
    ('<math><mi href="javascript:x">a</mi></math>', '<math display="inline"><mi>a</mi></math>'),
    ("<mi>a</mi>", ""),
    ("<math><mi>a</math>", ""),
    ("x<math><mi>a</mi></math>", ""),
    ('<!DOCTYPE m [<!ENTITY e "x">]><math><mi>&e;</mi></math>', ""),
    ("<math>" + "<mrow>" * 500 + "</mrow>" * 500 + "</math>", ""),
    ("<math>" + "<mi>a</mi>" * 5000 + "</math>", ""),
)


@pytest.mark.parametrize(("given", "kept"), MATHML, ids=range(len(MATHML)))
def test_only_mathematics_passes(given: str, kept: str) -> None:
    """Elements of MathML Core (W3C), sections 2 and 3; whatever runs or loads anything is refused."""
    assert safe_mathml(given) == kept


def test_the_teachers_mark_stands_and_the_note_stays_private(tmp_path: Path) -> None:
    candidate, result = MARKED.referrals()[0]
    key = (candidate, result.part)
    view = {s.candidate: s for s in sheets(MARKED, None, {}, wording())}[candidate]
    part = next(p for p in view.parts if p.name == result.part)
    assert (part.state, view.waiting) == ("open", True)
    decided = Decisions(made={key: Decision(mark=0, note="PRIVATE NOTE")})
    view = {s.candidate: s for s in sheets(MARKED, decided, {}, wording())}[candidate]
    part = next(p for p in view.parts if p.name == result.part)
    assert (part.mark, part.state) == ("0", "none") and wording().part.decided in part.messages
    assert float(view.mark) == sum(r.mark for c, r in MARKED.responses() if c == candidate) - result.mark
    for path in write_feedback(tmp_path, MARKED, decided):
        assert "PRIVATE NOTE" not in path.read_text(encoding="utf-8")


def one(result: PartResult) -> MarkedPaper:
    return paper_of_results("A test", ((result.part, result.maximum),), [("c1", result)])


def award(kind: str, mark: float, **more: object) -> Award:
    outcome = Outcome.EARNED if mark else Outcome.NOT_EARNED
    return Award(point=kind, kind=kind, mark=mark, maximum=1, outcome=outcome, reason="r", **more)  # type: ignore[arg-type]


LINE = LineReport(number=1, text="I = 230/340", verdict="wrong", columns=(5, 12))
WORDS = wording()
STEPS = (
    ("nothing typed", PartResult(part="1", mark=0, maximum=1), WORDS.points["blank"].next),
    ("nothing readable", PartResult(part="1", mark=0, maximum=1, lines=(replace(LINE, verdict="unread"),)), WORDS.points["unread"].next),
    (
        "no fault named",
        PartResult(part="1", mark=1, maximum=2, awards=(award("relationship", 1), award("answer", 0)), lines=(LINE,)),
        WORDS.points["answer"].next,
    ),
    (
        "a kind of point without words of its own",
        PartResult(part="1", mark=0, maximum=1, awards=(award("some new kind", 0),), lines=(LINE,)),
        WORDS.points["default"].next,
    ),
    (
        "a fault named",
        PartResult(
            part="1",
            mark=0,
            maximum=1,
            awards=(award("answer", 0),),
            lines=(LINE,),
            faults=(FaultFound(code="time-unconverted", line=1, teacher="t", student="s"),),
        ),
        WORDS.faults["conversion"],
    ),
    (
        "a fault that only may be",
        PartResult(
            part="1",
            mark=0,
            maximum=1,
            awards=(award("answer", 0),),
            lines=(LINE,),
            faults=(FaultFound(code="time-unconverted", line=1, teacher="t", student="s", sure=False),),
        ),
        WORDS.points["answer"].next,
    ),
    ("all marks", PartResult(part="1", mark=1, maximum=1, awards=(award("answer", 1),), lines=(LINE,)), ""),
)


@pytest.mark.parametrize(("name", "result", "step"), STEPS, ids=[s[0] for s in STEPS])
def test_next_steps(name: str, result: PartResult, step: str) -> None:
    (sheet,) = sheets(one(result), None, {}, WORDS)
    assert sheet.parts[0].next_step == step


def test_own_values_and_what_was_not_sure() -> None:
    result = PartResult(
        part="1",
        mark=1,
        maximum=2,
        awards=(award("answer", 1, followed_through=True), award("unit", 0)),
        lines=(LINE,),
        own=(
            OwnValue(symbol="F", value=6.3, typed="6.3", unit="N", right=False),
            OwnValue(symbol="W", value=88.0, typed="88", right=False),
        ),
        faults=(FaultFound(code="unit-missing", line=1, teacher="t", student="The unit is not there.", sure=False),),
    )
    (sheet,) = sheets(one(result), None, {}, WORDS)
    (part,) = sheet.parts
    assert "F = 6.3 N" in part.messages[0]
    assert part.lines[0].advice == ("It may be this: The unit is not there.",)
    assert (part.lines[0].before, part.lines[0].spot, part.lines[0].after) == ("I = ", "230/340", "")
    assert sheet.practise == ()


def test_a_right_own_value_is_no_slip() -> None:
    """Own values are followed whether right or not; only after a wrong one is there anything to say."""
    first = PartResult(part="1", mark=1, maximum=1, lines=(LINE,), own=(OwnValue(symbol="F", value=608.0, typed="608", unit="N"),))
    second = PartResult(part="2", mark=1, maximum=2, awards=(award("answer", 1, followed_through=True),), lines=(LINE,))
    (sheet,) = sheets(paper_of_results("A test", (("1", 1.0), ("2", 2.0)), [("c1", first), ("c1", second)]), None, {}, WORDS)
    assert sheet.parts[1].messages == ()
    slip = replace(first, mark=0, own=(replace(first.own[0], typed="6.3", right=False),))
    (sheet,) = sheets(paper_of_results("A test", (("1", 1.0), ("2", 2.0)), [("c1", slip), ("c1", second)]), None, {}, WORDS)
    assert sheet.parts[1].messages == ()  # the wrong value stands in no line of the later part
    written = replace(second, lines=(replace(LINE, text="W = 6.3 × 2 = 12.6"),))
    (sheet,) = sheets(paper_of_results("A test", (("1", 1.0), ("2", 2.0)), [("c1", slip), ("c1", written)]), None, {}, WORDS)
    assert sheet.parts[1].messages == (WORDS.part.own_value_named.replace("{values}", "F = 6.3 N"),)
    longer = replace(second, lines=(replace(LINE, text="W = 16.35 × 2"),))
    (sheet,) = sheets(paper_of_results("A test", (("1", 1.0), ("2", 2.0)), [("c1", slip), ("c1", longer)]), None, {}, WORDS)
    assert sheet.parts[1].messages == ()


def test_what_to_practise_gathers_faults_over_the_paper() -> None:
    marked = marked_paper()
    for sheet in sheets(marked, None, {}, WORDS):
        expected: dict[str, set[str]] = {}
        for part, _ in marked.parts:
            result = marked.results[sheet.candidate, part]
            for fault in result.faults if result.mark < result.maximum or result.referred else ():
                words = fault_words(fault.code)
                expected.setdefault(words.practise or words.name, set()).add(part)
        assert {p.practise: {name for name, _ in p.parts} for p in sheet.practise} == expected
        sizes = [len(p.parts) for p in sheet.practise]
        assert sizes == sorted(sizes, reverse=True)


def test_every_named_fault_has_a_next_step_for_its_class() -> None:
    """Classes of rubrics/faults.toml, taken from its own codes."""
    codes = ("inverted-quotient", "unit-missing", "arithmetic", "too-few-figures", "copied-wrongly", "rounded-early", "stopped-early")
    assert {fault_words(c).family for c in codes} <= set(WORDS.faults)
    assert all(fault_words(c).practise for c in codes)
    assert fault_words("never-heard-of").name == "never heard of"


def test_file_names_are_safe_and_distinct(tmp_path: Path) -> None:
    names = ("../../up", "a/b", "a\\b", "CON", "s01", "S01", "Ünal", "💡", "x" * 300, "..", "whole-class")
    results = {(n, "1"): PartResult(part="1", mark=0, maximum=1) for n in names}
    marked = replace(MARKED, candidates=names, parts=(("1", 1.0),), groups={}, results=results)
    written = [p.name for p in write_feedback(tmp_path, marked)]
    assert len({n.casefold() for n in written}) == len(names) + 1
    assert all(re.fullmatch(r"[A-Za-z0-9_-]{1,90}\.html", n) for n in written)
    assert sorted(written) == sorted(p.name for p in tmp_path.iterdir())


def test_a_folder_that_is_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("x")
    with pytest.raises(OutputError, match="Name another folder"):
        write_feedback(tmp_path / "taken", MARKED)


JARGON = """
candidate referral referred award awarded ecf bod isw cao oe soi nfww scheme convention ruling mark-point part-mark
"""


def spoken() -> list[str]:
    words = wording()
    texts = [*words.page.model_dump().values(), *words.part.model_dump().values(), *words.faults.values()]
    texts += [v.text for v in words.verdicts.values()] + [t for p in words.points.values() for t in (p.name, p.next)]
    return texts


def test_the_wording_has_no_jargon_and_no_blame() -> None:
    found = {w for text in spoken() for w in re.findall(r"[a-z-]+", text.lower())}
    assert not found & set(JARGON.split())
    assert not found & {"careless", "careful", "stupid", "obviously", "simply", "fail", "failed", "should", "must"}


def test_the_wording_is_easy_to_read() -> None:
    """Flesch-Kincaid grade (Kincaid et al. 1975), syllables as groups of vowels: a 16-year-old reads at grade 10 to 11."""
    text = " ".join(t if t.endswith((".", "?", ":")) else t + "." for t in spoken() if len(t.split()) > 5)
    sentences = len(re.findall(r"[.?!:](?:\s|$)", text))
    found = re.findall(r"[A-Za-z]+", text)
    syllables = sum(max(1, len(re.findall(r"[aeiouy]+", re.sub(r"e$", "", w.lower())))) for w in found)
    assert len(found) > 200
    assert 0.39 * len(found) / sentences + 11.8 * syllables / len(found) - 15.59 < 9


def luminance(colour: str) -> float:
    raw = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    parts = [c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in raw]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


PAIRS = (
    *(("ink", ground) for ground in ("paper", "sheet", "wash", "bad-wash", "open-wash")),
    *(("quiet", ground) for ground in ("paper", "sheet", "bad-wash", "open-wash")),
    *(("accent", ground) for ground in ("paper", "sheet", "bad-wash")),
    *(("bad", "bad-wash"), ("open", "open-wash")),
)


def test_contrast_in_both_colour_schemes(pages: dict[str, str]) -> None:
    """Relative luminance and contrast ratio as in WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1."""
    schemes = [dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6})", block)) for block in re.findall(r":root \{([^}]*)\}", pages[BUNDLE])[:2]]
    assert len(schemes) == 2 and schemes[0]["paper"] != schemes[1]["paper"]
    for colours in schemes:
        for ink, ground in PAIRS:
            light, dark = sorted((luminance(colours[ink]), luminance(colours[ground])), reverse=True)
            assert (light + 0.05) / (dark + 0.05) >= 4.5, (ink, ground)


CHROMIUM = shutil.which("chromium")


@pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed; the width of a page cannot be measured")
def test_nothing_sticks_out_at_360_pixels(tmp_path: Path) -> None:
    assert CHROMIUM is not None
    long = LineReport(number=1, text="F=" + "x" * 300, verdict="right", mathml="<math>" + "<mi>x</mi><mo>+</mo>" * 60 + "</math>")
    marked = replace(one(PartResult(part="1", mark=0, maximum=1, lines=(long,))), title="A long " + "title " * 30)
    page = write_feedback(tmp_path, marked, None, {"1": ("y" * 300,)})[0]
    html = page.read_text(encoding="utf-8").replace("default-src 'none'", "default-src 'none'; script-src 'unsafe-inline'", 1)
    inner = tmp_path / "inner.html"
    tell = (
        "<script>onload=()=>{const e=document.documentElement;"
        "parent.postMessage(innerWidth+' '+(e.scrollWidth-e.clientWidth),'*')}</script></body>"
    )
    inner.write_text(html.replace("</body>", tell), encoding="utf-8")
    outer = tmp_path / "outer.html"
    outer.write_text(
        "<body><script>onmessage=e=>document.title='width '+e.data</script>"
        "<iframe src='inner.html' style='width:360px;height:900px;border:0'></iframe></body>"
    )
    command = [
        CHROMIUM,
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        f"--user-data-dir={tmp_path / 'profile'}",
        "--virtual-time-budget=4000",
    ]
    seen = subprocess.run([*command, "--dump-dom", outer.as_uri()], capture_output=True, text=True, timeout=120, check=True).stdout
    assert re.findall(r"<title>width (\d+) (-?\d+)</title>", seen) == [("360", "0")]


@pytest.mark.skipif(browser() is None, reason="no browser that can print is installed")
def test_the_class_can_be_printed(tmp_path: Path) -> None:
    marked = replace(MARKED, candidates=MARKED.candidates[:2])
    page = write_feedback(tmp_path, marked, None, ANSWERS)[-1]
    write_pdf(page, tmp_path / "class.pdf")
    data = (tmp_path / "class.pdf").read_bytes()
    assert data.startswith(b"%PDF") and len(data) > 5_000
    assert len(re.findall(rb"/Type\s*/Page\b", data)) >= 2


def test_without_a_browser_printing_says_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(OutputError, match="open the page in a browser and print it"):
        write_pdf(tmp_path / "page.html", tmp_path / "page.pdf")
    assert not (tmp_path / "page.pdf").exists()
