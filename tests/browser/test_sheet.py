"""The printed sheet in a browser: on both papers, on a phone, without network and scripts."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser

from builders import EXAMPLES, tables
from feedstock import Heap, Job, Lot, appraise, text
from feedstock.burn.burner import usual_burn
from feedstock.errors import moves_a_screen
from feedstock.quantities.format import Units

pytestmark = [pytest.mark.browser, pytest.mark.property]

NAMES = ("orchard_prunings.csv", "shed_clearout.yaml", "storm_stand.yaml")
UNITS: tuple[Units, ...] = ("metric", "us")
HOSTILE = (
    '<script>document.title="run"</script><img src=x onerror="document.title=\'run\'">',
    "\"onload='x' & <b>bold</b>",
    "‮gnp.sgol",
    "oak\u2028limbs\u2029twigs",
    "🌳🔥",
    "ענפי אלון",
    "\x1b[31mred\x1b[0m",
    "w" * 9_000,
)


@cache
def sheet_of(name: str, units: Units) -> str:
    path = EXAMPLES / name
    job = Job.read(path)
    burn, _ = usual_burn(job.burn, tables())
    return text.sheet(appraise(job.heap, burn, tables()), units=units)


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("name", NAMES)
def test_two_pages_at_most_on_both_papers(browser: Browser, name: str, units: Units) -> None:
    page = browser.new_page()
    page.set_content(sheet_of(name, units))
    page.emulate_media(media="print")
    for paper in ("A4", "Letter"):
        printed = page.pdf(format=paper, prefer_css_page_size=False)
        assert len(re.findall(rb"/Type\s*/Page\b", printed)) <= 2, paper
    page.close()


@pytest.mark.parametrize("width", [320, 390, 718, 794])
@pytest.mark.parametrize("name", NAMES)
def test_nothing_runs_over_the_edge(browser: Browser, name: str, width: int) -> None:
    """Of a phone, of Letter and of A4 at 96 dots an inch less margins."""
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.set_content(sheet_of(name, "us"))
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    cut = page.evaluate(
        "[...document.querySelectorAll('li, p, h1, h2, td, th')]"
        ".filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.textContent)"
    )
    assert cut == []
    page.close()


@pytest.mark.parametrize("name", NAMES)
def test_everybody_can_read_it(browser: Browser, name: str) -> None:
    """Headings, alternative texts, contrast and language by the rules of axe-core."""
    page = browser.new_page()
    page.set_content(sheet_of(name, "metric"))
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
    page.close()


@pytest.mark.parametrize("name", NAMES)
def test_it_is_whole_without_network_and_scripts(
    browser: Browser, name: str, tmp_path: Path
) -> None:
    path = tmp_path / "sheet.html"
    path.write_text(sheet_of(name, "metric"), encoding="utf-8")
    context = browser.new_context(java_script_enabled=False, offline=True)
    page, asked = context.new_page(), list[str]()
    page.on("request", lambda request: asked.append(request.url))
    page.goto(path.as_uri())
    assert asked == [path.as_uri()]
    assert page.locator("svg").count() >= 1
    assert page.locator(".boxes li").count() == 5
    context.close()


def test_no_word_of_a_heap_runs_or_breaks_out(browser: Browser) -> None:
    """Hostile names stay text: no element comes of them and nothing runs."""
    lots = [
        Lot(name=name[:200], material="oak", mass="20 kg", moisture="15 % wet", origin="own trees")
        for name in HOSTILE
        if not any(moves_a_screen(sign) for sign in name)
    ]
    result = appraise(Heap(name=HOSTILE[0][:200], lots=lots), tables=tables())
    page = browser.new_page(viewport={"width": 390, "height": 900})
    page.set_content(text.sheet(result))
    assert page.title() != "run"
    assert page.locator("script, img, b").count() == 0
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.close()
