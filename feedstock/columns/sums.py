"""Partial sums of many lots, which add up across batches, processes and machines."""

from __future__ import annotations

import json
import math
from collections.abc import Container, Iterable, Mapping
from typing import Any

from ..errors import InputError, Problem, TableError
from ..lot.build import Setting
from ..lot.model import LOT_FIGURES
from ..model.experience import Experience
from ..model.findings import Verdict
from ..model.inputs.burn import Burn
from ..model.inputs.lot import Lot
from ..model.inputs.rows import lots_of_rows
from ..pipeline import judged_lot, setting_of
from ..quantities.estimate import Estimate, figure_estimate
from ..quantities.frozen import frozen
from ..tables.limits import limits_in_use
from ..tables.loading.load import load_tables
from ..tables.register import loaded_tables
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.sums import add

FORMAT = 1
_MOST_APART = 64
"""So many lots with ranges of their own are added one by one; of more, what is each one's own
hardly counts beside what all share.
"""


@frozen
class Part:
    """All lots of one kind: a row that stands for them, their verdict, how many they are, and of
    each figure that adds up the sum of the middles and of their squares.
    """

    cells: Mapping[str, Any]
    verdict: Verdict
    count: int
    sums: Mapping[str, tuple[float, float]]

    def key(self, amounts: Container[str], stated: bool) -> str:
        """What lots have in common that are added as one."""
        cells = {k: v for k, v in self.cells.items() if stated or k not in amounts}
        ways = sorted(k for k in self.cells if k in amounts)
        return json.dumps([cells, ways, str(self.verdict)], sort_keys=True, default=str)

    def plus(self, other: Part) -> Part:
        """Both together."""
        sums = {
            name: (mids + other.sums[name][0], squares + other.sums[name][1])
            for name, (mids, squares) in self.sums.items()
        }
        return Part(self.cells, self.verdict, self.count + other.count, sums)


class Sums:
    """Sums over rows: what they share in doubt stays shared, however they were dealt out.

    `dry_mass`, `char_mass`, `char_volume` and `char_carbon` are those of all lots that are not to
    be kept out, as in an `Appraisal`.
    """

    def __init__(self, parts: Mapping[str, Part], setting: Setting, limits: str | None) -> None:
        self.parts, self._setting, self._limits = dict(parts), setting, limits
        self._known: dict[str, Estimate] = {}

    @classmethod
    def of(cls, parts: Mapping[str, Part], setting: Setting, limits: str | None) -> Sums:
        """The sums of some parts."""
        return cls(parts, setting, limits)

    @property
    def rows(self) -> int:
        """How many rows were added up."""
        return int(math.fsum(part.count for part in self.parts.values()))

    @property
    def dry_mass(self) -> Estimate:
        return self._sum("dry_mass")

    @property
    def char_mass(self) -> Estimate:
        return self._sum("char_mass")

    @property
    def char_volume(self) -> Estimate:
        return self._sum("char_volume")

    @property
    def char_carbon(self) -> Estimate:
        return self._sum("char_carbon")

    @staticmethod
    def merge(parts: Iterable[Sums]) -> Sums:
        """The sums of all. Raises InputError where they are not of one burn, limits and tables."""
        several = list(parts)
        if not several:
            raise InputError([Problem("empty", "there is nothing to add", "Give some sums.")])
        first, merged = several[0], dict[str, Part]()
        for sums in several:
            if (sums._setting, sums._limits) != (first._setting, first._limits):
                what = "these sums are of different burns, limits, tables or experience"
                raise InputError([Problem("different", what, "Add up those of one setting.")])
            for key, part in sums.parts.items():
                merged[key] = merged[key].plus(part) if key in merged else part
        return Sums(merged, first._setting, first._limits)

    def to_bytes(self) -> bytes:
        """All that another process needs to go on adding."""
        setting = self._setting
        return json.dumps(
            {
                "format": FORMAT,
                "digest": setting.tables.digest,
                "burn": setting.burn and setting.burn.model_dump_json(exclude_none=True),
                "limits": self._limits,
                "experience": setting.experience and setting.experience.model_dump_json(),
                "parts": {
                    key: [dict(p.cells), str(p.verdict), p.count, dict(p.sums)]
                    for key, p in self.parts.items()
                },
            },
            default=str,
        ).encode()

    @classmethod
    def from_bytes(cls, data: bytes, tables: Tables | None = None) -> Sums:
        """What `to_bytes` gave. Raises InputError for anything else, TableError where the tables
        are others.
        """
        try:
            content = json.loads(data)
            form, digest = content["format"], content["digest"]
        except (ValueError, KeyError, TypeError):
            form, digest = None, ""
        if form != FORMAT:
            what = "these bytes are no sums that this version reads"
            raise InputError([Problem("not-sums", what, "Give what Sums.to_bytes gave.")])
        known_tables = tables or loaded_tables(digest) or load_tables()
        if known_tables.digest != digest:
            what = "these sums were made with other tables"
            raise TableError([Problem("other-tables", what, "Give those tables.")])
        burn = content["burn"] and Burn.model_validate_json(content["burn"])
        experience = content["experience"] and Experience.model_validate_json(content["experience"])
        parts = {
            key: Part(cells, Verdict(verdict), count, {k: (a, b) for k, (a, b) in sums.items()})
            for key, (cells, verdict, count, sums) in content["parts"].items()
        }
        return cls(
            parts, setting_of(burn or None, known_tables, experience or None), content["limits"]
        )

    def _sum(self, name: str) -> Estimate:
        if name not in self._known:
            about = LOT_FIGURES[name]
            figures = [
                figure
                for number, part in enumerate(self.parts.values())
                if part.verdict is not Verdict.KEEP_OUT and part.sums.get(name, (0.0, 0.0))[0] > 0
                for figure in self._figures(part, name, number)
            ]
            total = add(figures) if figures else UncertainValue(0.0)
            self._known[name] = figure_estimate(total, about.unit, about.factor)
        return self._known[name]

    def _figures(self, part: Part, name: str, number: int) -> list[UncertainValue]:
        """The lots of a kind as one; where each has a range of its own, as so many as there are in
        effect.
        """
        about, (total, squares) = LOT_FIGURES[name], part.sums[name]
        lot = Lot.model_validate(lots_of_rows([part.cells], [])[0])
        limits = limits_in_use(self._setting.tables, self._limits)
        figures: list[UncertainValue] = []
        for at, size in enumerate(_sizes(total, squares)):
            judged = judged_lot(lot, self._setting, limits, f"sum {number}.{at}")
            figure = judged.figures[about.output]
            stated = any(entry.shared for entry in judged.model.inputs)
            amount = (size if stated else total) / about.factor
            figures.append(figure.times(amount / figure.mid))
            if not stated:
                break
        return figures


def _sizes(total: float, squares: float) -> list[float]:
    """So many sizes with this sum and this sum of squares, all but the last equal."""
    count = min(math.ceil(total * total / squares - 1e-9), _MOST_APART)
    if count <= 1:
        return [total]
    mean = total / count
    spread = max(squares / count - mean * mean, 0.0)
    off = math.sqrt(spread / (count - 1))
    return [*[mean + off] * (count - 1), mean - off * (count - 1)]
