"""Which of the cautions in the tables apply to a burn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from ..lot.evidence import Evidence
from ..lot.model import LotModel
from ..model.findings import Caution, Verdict
from ..model.inputs.burn import Burn
from ..quantities.data import trusted
from ..tables.caches import kept_of_tables
from ..tables.citations import citations
from ..tables.names.index import folded
from ..tables.rows.burner import Burner
from ..tables.rows.cautions import Caution as CautionRow
from ..tables.rows.cautions import CautionWhen
from ..tables.tables import Tables
from ..words import Values
from .verdict import JudgedLot


def of_the_burnt(lots: Sequence[JudgedLot]) -> list[Evidence]:
    """What is known of the lots that go into the fire; where none does yet, of those that may once
    they are dried or cleared.
    """
    for most in (Verdict.READY, Verdict.CHECK_FIRST):
        burnt = [_as_it_lies(lot.model) for lot in lots if lot.verdict <= most]
        if burnt:
            return burnt
    return []


def _as_it_lies(model: LotModel) -> Evidence:
    """What is known of a lot; shavings of a wood and its rotten crumbs fly, the wood itself does
    not, and lumps of it hold fire.
    """
    traits = {"fine"} if model.fineness == "fine" else set[str]()
    traits |= {"rotted"} if model.lies == "rotted" else set()
    evidence = model.evidence
    if traits <= evidence.traits:
        return evidence
    return replace(evidence, traits=evidence.traits | traits)


def cautions_for(
    burner_row: str, burn: Burn | None, lots: Iterable[Evidence], tables: Tables
) -> tuple[Caution, ...]:
    """The cautions whose trigger is met, in printing order: what comes before lighting first."""
    return _cautions_for(burner_row, burn, frozenset(map(_kind, lots)), tables)


_Kind = tuple[str, str, frozenset[str]]
"""What a caution may ask of a lot: its material, its class, its traits."""


def _kind(evidence: Evidence) -> _Kind:
    return evidence.material, evidence.class_, evidence.traits


@kept_of_tables(1024)
def _cautions_for(
    burner_row: str, burn: Burn | None, lots: frozenset[_Kind], tables: Tables
) -> tuple[Caution, ...]:
    rows = dict[str, CautionRow]()
    for row_id, row in tables.rows["cautions"].items():
        assert isinstance(row, CautionRow)
        if _applies(row.when, burner_row, burn, lots, tables):
            rows[row_id] = row
    # within a set alone: no other takes away what this one says
    outdone = {
        f"{row_id.partition(':')[0]}:{name}"
        for row_id, row in rows.items()
        for name in row.instead_of
    }
    cautions = []
    for row_id, row in rows.items():
        short = {"short": row.short} if row.short and row_id not in outdone else {}
        cautions.append(
            trusted(Caution)(
                code=row_id.partition(":")[2],
                order=row.order,
                stage=row.stage,
                sources=citations("cautions", row_id, row, tables),
                values=Values({"text": row.text, **short}),
            )
        )
    return tuple(sorted(cautions, key=lambda c: (c.order, c.code)))


def _applies(
    when: CautionWhen,
    burner_row: str,
    burn: Burn | None,
    lots: frozenset[_Kind],
    tables: Tables,
) -> bool:
    """`always`, or every list that is given has a match."""
    if when.always:
        return True
    burner = tables.row("burners", burner_row, Burner)
    firing = burn.firing if burn is not None and burn.firing is not None else burner.firing[0]
    vessels = {folded(v) for v in burn.vessel} if burn is not None else set()
    grounds = {folded(g) for g in burn.ground} if burn is not None else set()
    tests = [
        not when.burners
        or burner_row
        in {row_id for name in when.burners for row_id in tables.index("burners").find(name)},
        not when.airs or burner.air in when.airs,
        not when.firing or firing in when.firing,
        not when.vessels or bool({folded(v) for v in when.vessels} & vessels),
        not when.grounds or bool({folded(g) for g in when.grounds} & grounds),
        not when.materials
        or bool(
            {row_id for name in when.materials for row_id in tables.index("materials").find(name)}
            & {material for material, _, _ in lots}
        ),
        not when.traits or any(traits.intersection(when.traits) for _, _, traits in lots),
        not when.classes or any(class_ in when.classes for _, class_, _ in lots),
    ]
    return all(tests)
