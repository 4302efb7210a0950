"""Partial sums of many lots, which add up across batches, processes and machines."""

from __future__ import annotations

import json
import math
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from ..errors import FeedstockError, InputError, Problem, TableError
from ..lot.build import Setting, build_lot_model
from ..lot.model import LOT_FIGURES
from ..model.experience import Experience
from ..model.findings import Verdict
from ..model.inputs.burn import Burn
from ..model.inputs.lot import Lot
from ..model.inputs.rows import lots_of_rows
from ..pipeline import setting_of
from ..quantities.estimate import Estimate, figure_estimate
from ..quantities.frozen import frozen
from ..tables.loading.load import load_tables
from ..tables.register import loaded_tables
from ..tables.tables import Tables
from ..uncertainty.figure import UncertainValue
from ..uncertainty.propagate import propagate
from ..uncertainty.sums import add

FORMAT = 2
_ROUNDING = 1e-9
_MOST_APART = 128
"""Lots with ranges of their own are added apart as far as each is more than this part of the whole.
What is each one's own of less hardly counts beside what all share: at most by half of this part.
"""


@frozen
class Added:
    """The middles of a figure over some lots: their sum, that of their squares, and the largest."""

    total: float
    squares: float
    largest: float

    def plus(self, other: Added) -> Added:
        """Both together."""
        return Added(
            self.total + other.total,
            self.squares + other.squares,
            max(self.largest, other.largest),
        )

    def sizes(self, most: int) -> list[float]:
        """At most so many sizes with this sum, this sum of squares and this largest one; the others
        but one are equal.
        """
        rest, left = self.total - self.largest, self.squares - self.largest**2
        if most == 1 or rest <= _ROUNDING * self.total:
            return [self.total]
        count = min(math.ceil(rest * rest / left - _ROUNDING), most - 1) if left > 0 else 1
        if count <= 1:
            return [self.largest, rest]
        mean = rest / count
        off = math.sqrt(max(left / count - mean * mean, 0.0) / (count - 1))
        return [self.largest, *[mean + off] * (count - 1), mean - off * (count - 1)]


@frozen
class Part:
    """All lots of one kind: a row that stands for them, their verdict, how many they are, and each
    figure that adds up.
    """

    cells: Mapping[str, Any]
    verdict: Verdict
    count: int
    sums: Mapping[str, Added]

    def key(self, amounts: Container[str], ranges: Sequence[str]) -> str:
        """What lots have in common that are added as one: neither their names nor their amounts,
        but how wide the ranges are that are stated of these.
        """
        cells = {k: v for k, v in self.cells.items() if k != "name" and k not in amounts}
        ways = sorted(k for k in self.cells if k in amounts)
        shared = [cells, ways, *ranges, str(self.verdict)]
        return json.dumps(shared, sort_keys=True, default=str)

    def plus(self, other: Part) -> Part:
        """Both together."""
        sums = {name: added.plus(other.sums[name]) for name, added in self.sums.items()}
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
                    key: [
                        dict(p.cells),
                        str(p.verdict),
                        p.count,
                        {k: (a.total, a.squares, a.largest) for k, a in p.sums.items()},
                    ]
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
            if content["format"] != FORMAT:
                raise _not_sums()
            known_tables = tables or loaded_tables(content["digest"]) or load_tables()
            if known_tables.digest != content["digest"]:
                what = "these sums were made with other tables"
                raise TableError([Problem("other-tables", what, "Give those tables.")])
            burn = content["burn"] and Burn.model_validate_json(content["burn"])
            experience = content["experience"] and Experience.model_validate_json(
                content["experience"]
            )
            parts = {
                key: Part(
                    dict(cells),
                    Verdict(verdict),
                    int(count),
                    {name: Added(*map(float, added)) for name, added in sums.items()},
                )
                for key, (cells, verdict, count, sums) in content["parts"].items()
            }
        except FeedstockError:
            raise
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            raise _not_sums() from None
        return cls(
            parts, setting_of(burn or None, known_tables, experience or None), content["limits"]
        )

    def _sum(self, name: str) -> Estimate:
        if name not in self._known:
            about = LOT_FIGURES[name]
            counted = [
                part
                for part in self.parts.values()
                if part.verdict is not Verdict.KEEP_OUT
                and name in part.sums
                and part.sums[name].total > 0
            ]
            whole = math.fsum(part.sums[name].total for part in counted)
            figures = [
                figure
                for number, part in enumerate(counted)
                for figure in self._figures(part, name, number, whole)
            ]
            total = add(figures) if figures else UncertainValue(0.0)
            self._known[name] = figure_estimate(total, about.unit, about.factor)
        return self._known[name]

    def _figures(
        self, part: Part, name: str, number: int, whole: float
    ) -> Iterator[UncertainValue]:
        """The lots of a kind as one; where each has a range of its own, as so many as there are in
        effect, or as their part of the whole sum is worth.
        """
        about, added = LOT_FIGURES[name], part.sums[name]
        lot = _lot_of(part)
        most = math.ceil(_MOST_APART * added.total / whole)
        for at, size in enumerate(added.sizes(most)):
            mark = f"sum {number}.{at}"
            model = build_lot_model(lot, self._setting, "lots[0]", lot.name or lot.material, mark)
            figure = propagate(model.chain, model.inputs, [about.output])[about.output]
            stated = any(entry.shared for entry in model.inputs)
            amount = (size if stated else added.total) / about.factor
            yield figure.times(amount / figure.mid)
            if not stated:
                break


def _lot_of(part: Part) -> Lot:
    try:
        return Lot.model_validate(lots_of_rows([part.cells], [])[0])
    except (ValidationError, IndexError):
        raise _not_sums() from None


def _not_sums() -> InputError:
    what = "these bytes are no sums that this version reads"
    return InputError([Problem("not-sums", what, "Give what Sums.to_bytes gave.")])
