"""A headless Chromium of the machine, and the shades of a page that a test looks at."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium as the system's packages bring it; the library's own download is not used."""
    found = next(
        (
            path
            for name in ("chromium", "chromium-browser", "google-chrome")
            if (path := shutil.which(name))
        ),
        None,
    )
    assert found is not None, "these tests need a Chromium: apt-get install chromium"
    with sync_playwright() as drivers:
        started = drivers.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield started
        started.close()
