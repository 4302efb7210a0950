"""The verdict: the worst of what the findings permit, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable

from ..model.findings import Finding, Verdict


def verdict_of(findings: Iterable[Finding]) -> Verdict:
    """The worst `permits`; ready where nothing was found."""
    return max((finding.permits for finding in findings), default=Verdict.READY)
