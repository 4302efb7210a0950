"""The set loads, closes, and loosens nothing that it does not declare."""

from feedstock.testing import check_tables


def test_tables() -> None:
    check_tables("warm_climate_tables", warnings_fail=True)
