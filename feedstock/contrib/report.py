"""The checker's report and differences as text."""

from __future__ import annotations

from collections.abc import Iterator

from ..quantities.cell import BY_RULE
from ..words.layout import listed, wrapped
from .check import Report
from .diff import Difference
from .panel import Change, summary

MOST_CHANGES = 40


def report_text(report: Report) -> str:
    """Errors first, one a line, then warnings, then what the set holds and what it changes."""
    lines = [str(problem) for problem in report.errors]
    if report.warnings:
        lines += ["", "Worth a look:", *(f"  {problem}" for problem in report.warnings)]
    if report.placeholders:
        lines += ["", "Still to be filled in:"]
        lines += [f"  {problem}" for problem in report.placeholders]
    if not report.files:
        return "\n".join([*lines, _last(report)]).lstrip("\n") + "\n"
    content = listed(_counts(report)) or "no rows of its own"
    lines += [
        "",
        wrapped(
            f"{report.name} {report.version}: {report.files} "
            f"file{'s' if report.files != 1 else ''}; {content}",
            rest="  ",
        ),
    ]
    if report.cells:
        lines.append(
            wrapped(
                "Values by how they are known: "
                f"{listed(f'{count} {known}' for known, count in report.cells.items())}.",
                rest="  ",
            )
        )
    if report.ends:
        lines.append(wrapped(f"Where intervals come from: {listed(_ends(report))}.", rest="  "))
    if report.shared:
        text = f"Words of two kinds, where the field decides: {listed(report.shared)}."
        lines.append(wrapped(text, rest="  "))
    if not report.errors:
        lines += _changes(report.changes)
    lines.append(_last(report))
    return "\n".join(lines).lstrip("\n") + "\n"


def _counts(report: Report) -> Iterator[str]:
    for kind, count in report.rows.items():
        yield f"1 row of {kind}" if count == 1 else f"{count} {kind}"


def _last(report: Report) -> str:
    if not report.passed:
        return f"{len(report.errors)} to fix."
    if report.placeholders:
        return f"Nothing is wrong; {len(report.placeholders)} still to be filled in."
    return "Nothing to fix."


def _ends(report: Report) -> Iterator[str]:
    """How many ends are of each kind; a rule by its name."""
    for word, count in report.ends.items():
        if word == "none":
            yield f"{count} values have no interval"
        else:
            yield f"{count} by {word}" if word.startswith(BY_RULE) else f"{count} {word}"


def _changes(changes: list[Change]) -> list[str]:
    lines = [
        wrapped(
            f"On the panel of heaps: {summary(changes)}" if changes else summary(changes), rest="  "
        )
    ]
    lines += [wrapped(str(change), "  - ") for change in changes[:MOST_CHANGES]]
    if len(changes) > MOST_CHANGES:
        lines.append(f"  and {len(changes) - MOST_CHANGES} more")
    return lines


def diff_text(rows: list[Difference], changes: list[Change]) -> str:
    """Differences by row and field, then by effect."""
    lines = [wrapped(str(item), rest="  ") for item in rows] or ["No row differs."]
    return "\n".join([*lines, "", *_changes(changes)]) + "\n"
