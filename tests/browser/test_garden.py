"""The example page at a phone's width: a heap entered, a mistake mended, the sheet reached."""

from __future__ import annotations

import importlib.util
import sys
import threading
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser
from werkzeug.serving import make_server

from builders import EXAMPLES

pytestmark = [pytest.mark.browser, pytest.mark.worked]


def garden_app() -> Any:
    path = EXAMPLES / "garden_app" / "app.py"
    spec = importlib.util.spec_from_file_location("garden_app", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    # Flask finds its templates beside the module that it is told
    sys.modules["garden_app"] = module
    spec.loader.exec_module(module)
    return module.app


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    server = make_server("127.0.0.1", 0, garden_app(), threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    thread.join()


def test_a_heap_is_entered_mended_and_printed(browser: Browser, address: str) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto(address)
    page.get_by_label("What is it?").fill("oak branches")
    page.locator("#mass").fill("35")
    page.get_by_label("Where does it come from?").fill("own trees")
    page.get_by_role("button", name="Add this lot").click()
    alert = page.get_by_role("alert")
    assert "unit" in alert.inner_text()
    # what was filled in is still there; only the amount is mended
    assert page.get_by_label("What is it?").input_value() == "oak branches"
    page.locator("#mass").fill("35 kg")
    page.locator("#moisture").fill("18 % wet")
    page.get_by_role("button", name="Add this lot").click()
    assert page.get_by_role("alert").count() == 0
    assert "oak branches" in page.locator("ol").inner_text()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert Axe().run(page).violations_count == 0
    page.get_by_label("Where will you burn it?").select_option("kettle")
    page.locator("#diameter").fill("90 cm")
    page.locator("#depth").fill("40 cm")
    page.get_by_role("button", name="See what goes in").click()
    assert "oak branches" in page.locator("main").inner_text()
    assert page.locator(".boxes li").count() == 5
    page.close()


def test_a_kept_file_is_opened_again(browser: Browser, address: str, tmp_path: Any) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844}, accept_downloads=True)
    page.goto(address)
    page.get_by_label("What is it?").fill("hazel")
    page.locator("#mass").fill("12 kg")
    page.get_by_role("button", name="Add this lot").click()
    with page.expect_download() as kept:
        page.get_by_role("button", name="Keep the heap as a file").click()
    path = tmp_path / "heap.json"
    kept.value.save_as(path)
    page.goto(address)
    page.locator("#file").set_input_files(path)
    page.get_by_role("button", name="Open it").click()
    assert "hazel" in page.locator("ol").inner_text()
    page.close()
