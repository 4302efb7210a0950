"""What the tests of the table tools share."""

from __future__ import annotations

import pytest

from feedstock.contrib.panel import panel


@pytest.fixture
def few_heaps(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three heaps for the panel, and no lot for each row, where not the panel is tried."""
    few = dict(list(panel().items())[:3])
    monkeypatch.setattr("feedstock.contrib.panel.panel", lambda: few)
    monkeypatch.setattr("feedstock.contrib.panel.subjects", lambda tables: {})
