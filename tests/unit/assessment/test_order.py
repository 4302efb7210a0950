"""In which order the findings of a lot are told."""

from __future__ import annotations

from itertools import pairwise

import pytest

from builders import tables
from feedstock import Lot, Verdict, appraise_lot

pytestmark = pytest.mark.property


def test_findings_stand_worst_first() -> None:
    """Wet, rotten and painted pallet wood: what keeps it out, then what is to be checked, then what
    must dry, and last what leaves it ready; of equal ones what is still asked before what was
    cleared, and contamination before the rest.
    """
    lot = Lot(
        material="pallet wood",
        mass="20 kg",
        moisture="35 % wet",
        origin="pallet",
        signs=["painted", "nails or wire"],
        decay=4,
    )
    findings = appraise_lot(lot, tables=tables()).findings
    kinds = [finding.permits for finding in findings]
    assert {Verdict.KEEP_OUT, Verdict.CHECK_FIRST, Verdict.DRY_FIRST} <= set(kinds)
    assert kinds == sorted(kinds, key=lambda verdict: verdict.position, reverse=True)
    for one, other in pairwise(findings):
        if one.permits is other.permits:
            assert one.cleared <= other.cleared
            if one.cleared is other.cleared:
                assert (one.axis == "contamination") >= (other.axis == "contamination")
