"""The standing panel: twenty named heaps that are appraised with and without a set, to show what it
changes, and with them a lot for every sign, origin, suspicion and material that asks something,
of which only the verdict is compared.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from importlib.resources import files
from typing import Any

from ..documents.yaml_reader import read_yaml
from ..errors import FeedstockError
from ..model.appraisal import Appraisal
from ..model.findings import Verdict
from ..model.inputs.burn import Burn
from ..model.inputs.heap import Heap
from ..pipeline import appraise, verdicts
from ..quantities.frozen import frozen
from ..tables.caches import kept_by_digest
from ..tables.tables import Tables
from .subjects import subjects, touched

WORTH_TELLING = 0.005
"""A change of a figure by less than half a per cent is not told."""


@frozen
class Change:
    """What differs for one lot of one heap: `figure` is verdict, char_mass, char_volume,
    char_carbon, dry_mass or error.
    """

    heap: str
    lot: str
    figure: str
    before: str
    after: str
    relative: float = 0.0
    """Change of a figure; for a verdict the steps by which it became stricter (above 0) or
    looser.
    """

    def __str__(self) -> str:
        if self.figure == "verdict":
            return (
                f"{self.heap}, {self.lot}: {self.before} becomes {self.after} "
                f"({'stricter' if self.relative > 0 else 'looser'})"
            )
        if self.figure == "error":
            lot = f", {self.lot}" if self.lot else ""
            return f"{self.heap}{lot}: {self.after}"
        return (
            f"{self.heap}, {self.lot}: {self.figure.replace('_', ' ')} "
            f"{abs(100 * self.relative):.2g} % "
            f"{'higher' if self.relative > 0 else 'lower'} ({self.before} to {self.after})"
        )


@lru_cache(maxsize=1)
def panel() -> Mapping[str, tuple[Heap, Burn | None]]:
    """The heaps by name."""
    text = (files("feedstock") / "contrib" / "panel.yaml").read_text(encoding="utf-8")
    heaps: dict[str, tuple[Heap, Burn | None]] = {}
    for name, item in read_yaml(text, "panel.yaml").data.items():
        burn: Any = item.pop("burn", None)
        heaps[name] = (
            Heap.model_validate(item),
            Burn.model_validate(burn) if burn is not None else None,
        )
    return heaps


def appraised(tables: Tables) -> dict[str, Appraisal | str]:
    """Every heap of the panel appraised; the message where a heap cannot be."""
    return {name: _appraised(heap, burn, tables) for name, (heap, burn) in panel().items()}


@kept_by_digest(64)
def _appraised(heap: Heap, burn: Burn | None, tables: Tables) -> Appraisal | str:
    try:
        return appraise(heap, burn, tables)
    except FeedstockError as why:
        return str(why)


def changes(before: Tables, after: Tables) -> list[Change]:
    """What changes on the panel from one set of tables to another, lot by lot."""
    old, new = appraised(before), appraised(after)
    changes_found = [change for name in old for change in _heap_changes(name, old[name], new[name])]
    for name, (heap, burn) in {**subjects(before), **touched(before, after)}.items():
        was, now = judged(heap, burn, before), judged(heap, burn, after)
        for lot, one, other in zip(heap.lots, was, now, strict=True):
            changes_found += _verdict_changes(name, lot.name or lot.material, one, other)
    return changes_found


@kept_by_digest(256)
def judged(heap: Heap, burn: Burn | None, tables: Tables) -> tuple[Verdict | str, ...]:
    """The verdicts of the lots of a heap."""
    return tuple(verdicts(heap, burn, tables))


def _verdict_changes(name: str, lot: str, a: Verdict | str, b: Verdict | str) -> Iterator[Change]:
    if a == b:
        return
    if isinstance(a, Verdict) and isinstance(b, Verdict):
        steps = float(b.position - a.position)
        yield Change(name, lot, "verdict", str(a), str(b), steps)
    else:
        one, other = ("done" if isinstance(outcome, Verdict) else outcome for outcome in (a, b))
        yield Change(name, lot, "error", one, other)


def _heap_changes(name: str, old: Appraisal | str, new: Appraisal | str) -> Iterator[Change]:
    if isinstance(old, str) or isinstance(new, str):
        if old != new:
            yield Change(
                name,
                "",
                "error",
                old if isinstance(old, str) else "done",
                new if isinstance(new, str) else "done",
            )
        return
    for was, now in zip(old.lots, new.lots, strict=True):
        yield from _verdict_changes(name, was.name, was.verdict, now.verdict)
        for figure in ("dry_mass", "char_mass", "char_volume", "char_carbon"):
            a, b = getattr(was, figure), getattr(now, figure)
            if a is None or b is None or a.mid_value == 0:
                continue
            relative = b.mid_value / a.mid_value - 1
            if abs(relative) >= WORTH_TELLING:
                yield Change(
                    name,
                    was.name,
                    figure,
                    f"{a.mid_value:.3g} {a.unit}",
                    f"{b.mid_value:.3g} {b.unit}",
                    relative,
                )


def summary(changes: list[Change]) -> str:
    """`char from willow 12 % lower; 2 verdicts stricter, none looser`, in one sentence."""
    if not changes:
        return "The panel of heaps shows no change."
    stricter = sum(c.figure == "verdict" and c.relative > 0 for c in changes)
    looser = sum(c.figure == "verdict" and c.relative < 0 for c in changes)
    masses: dict[str, float] = {}
    for item in changes:
        if item.figure == "char_mass" and abs(item.relative) > abs(masses.get(item.lot, 0.0)):
            masses[item.lot] = item.relative
    parts = [
        f"char from {lot} {abs(100 * r):.2g} % {'higher' if r > 0 else 'lower'}"
        for lot, r in masses.items()
    ]
    errors = sum(c.figure == "error" for c in changes)
    if errors:
        parts.append(
            f"{errors} heap{'s' if errors > 1 else ''} can no longer be appraised"
            if lost(changes)
            else "more heaps can be appraised"
        )
    verdicts = (
        f"{stricter or 'no'} verdict{'s' if stricter != 1 else ''} stricter, "
        f"{looser or 'none'} looser"
    )
    return "; ".join([*parts, verdicts]) + "."


def looser(changes: list[Change]) -> list[Change]:
    """The verdicts that became easier."""
    return [c for c in changes if c.figure == "verdict" and c.relative < 0]


def lost(changes: list[Change]) -> list[Change]:
    """The heaps and lots that could be appraised and can be no longer."""
    return [c for c in changes if c.figure == "error" and c.before == "done"]
