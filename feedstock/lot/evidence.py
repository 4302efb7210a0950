"""What is known of a lot and of a burn, in the words of the tables, and whether a condition of a
rule holds for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from ..errors import Problem, UnknownName, shown
from ..model.inputs.burn import Burn
from ..model.inputs.lot import Lot
from ..quantities.frozen import frozen
from ..tables.caches import kept_of_tables
from ..tables.names.alike import Name, NameIndex
from ..tables.names.index import folded, plurals
from ..tables.names.text import words_of
from ..tables.rows.burner import Burner
from ..tables.rows.contaminant import AddedContent, Clears, Condition, Contaminant, OriginRow
from ..tables.rows.methods.defaults import Defaults
from ..tables.tables import Tables
from ..words import Message, Texts
from .refusal import unknown_name


@frozen
class Evidence:
    """Full row names of what was seen and said; `year` and `region` are None where unknown."""

    signs: frozenset[str]
    origin: str
    material: str
    class_: str
    form: str
    traits: frozenset[str]
    history_needed: bool
    carries: tuple[str, ...]
    year: int | None
    region: str | None
    vessel: frozenset[str] = frozenset()
    ground: frozenset[str] = frozenset()
    lighting: frozenset[str] = frozenset()
    heard: frozenset[str] = frozenset()
    """Those words that some rule asks for and that stand in name or remarks, in the singular or
    plural.
    """
    counts_as: str = ""
    """The origin `unknown`, where a later set brings the origin and does not know its history."""


def evidence_of(lot: Lot, burn: Burn | None, tables: Tables, path: str) -> Evidence:
    """The evidence of a lot in a burn. Raises UnknownName with every name that is in no table."""
    heard = heard_words(f"{lot.name or ''} {lot.remarks or ''}", tables)
    around = burn_words(burn, tables)
    try:
        return _evidence(
            lot.material, lot.origin, lot.signs, lot.year, lot.region, around, heard, tables
        )
    except UnknownName as why:
        raise UnknownName(
            [replace(problem, field=f"{path}.{problem.field}") for problem in why.problems]
        ) from None


@kept_of_tables(4096)
def _evidence(
    material: str,
    origin: str,
    signs: tuple[str, ...],
    year: int | None,
    region: str | None,
    around: tuple[frozenset[str], frozenset[str], frozenset[str]],
    heard: frozenset[str],
    tables: Tables,
) -> Evidence:
    problems: list[Problem] = []

    def find(kind: str, name: str, where: str) -> str:
        if not tables.index(kind).find(name):
            problems.append(unknown_name(tables, kind, name, where))
            return ""
        try:
            return tables.find(kind, name, where)
        except UnknownName as why:
            problems.extend(why.problems)
            return ""

    row_id = find("materials", material, "material")
    origin_id = find("origins", origin, "origin")
    sign_ids = frozenset(find("signs", sign, f"signs[{index}]") for index, sign in enumerate(signs))
    if problems:
        raise UnknownName(problems)
    row = tables.material(row_id)
    return Evidence(
        sign_ids,
        origin_id,
        row_id,
        row.class_ or "",
        row.form or "",
        frozenset(row.traits),
        row.history == "needed",
        tuple(tables.find("contaminants", key) for key in row.carries),
        year,
        known_region(region, tables),
        *around,
        heard,
        _counts_as(origin_id, tables),
    )


def _counts_as(origin: str, tables: Tables) -> str:
    row = tables.rows["origins"][origin]
    if origin.partition(":")[0] == tables.sets[0].name or (
        isinstance(row, OriginRow) and row.known_history
    ):
        return ""
    return next(iter(tables.index("origins").find(UNKNOWN)), "")


def heard_words(text: str, tables: Tables) -> frozenset[str]:
    """The words of rules that stand in a text, whole, in the singular or plural."""
    asked = _asked_words(tables)
    words = re.findall(r"[^\W_]+", folded(text)) if asked else ()
    if not words:
        return frozenset()
    spoken = f" {' '.join(words)} "
    return frozenset(
        word for first in set(words) for form, word in asked.get(first, ()) if f" {form} " in spoken
    )


@kept_of_tables(64)
def _asked_words(tables: Tables) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """Every form of a word that some rule asks for, with the word, by its own first word."""
    by_first: dict[str, dict[tuple[str, str], None]] = {}
    for _, condition in all_conditions(tables):
        for word in condition.words:
            for form in (folded(word), *plurals(folded(word))):
                by_first.setdefault(form.split(" ")[0], {})[(form, word)] = None
    return {first: tuple(pairs) for first, pairs in by_first.items()}


def said_words(words: Iterable[str], evidence: Evidence) -> tuple[str, ...]:
    """Which of the words stand in what was said."""
    return tuple(word for word in words if word in evidence.heard)


UNSTATED_PAST = "unstated past"
"""Stands for the vessel of a burner that may have held anything, where nobody has said what."""


def burn_words(
    burn: Burn | None, tables: Tables
) -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    """Vessel, ground and lighting of a burn as they are compared."""
    if burn is None:
        return frozenset(), frozenset(), frozenset()
    vessel = frozenset(map(folded, burn.vessel))
    row = tables.row("burners", tables.find("burners", burn.burner, "burn.burner"), Burner)
    if row.past and vessel.isdisjoint(map(folded, row.past)):
        vessel |= {UNSTATED_PAST}
    return vessel, frozenset(map(folded, burn.ground)), frozenset(map(folded, burn.lighting))


UNKNOWN = "unknown"
SURROUNDINGS = ("vessel", "ground", "lighting")


def unknown_burn_words(burn: Burn, tables: Tables) -> list[Problem]:
    """A problem for every word of vessel, ground or lighting that no table knows: a slip of the pen
    must not hide a danger.
    """
    problems = []
    for part in SURROUNDINGS:
        words = known_burn_words(part, tables)
        folds = {folded(word) for word in words}
        for index, word in enumerate(getattr(burn, part)):
            if folded(word) not in folds:
                problems.append(
                    Problem(
                        f"unknown-{part}",
                        f"'{shown(word)}' is not a word for the {part} that the tables know",
                        f"Write one of {', '.join(sorted(words))}.",
                        f"burn.{part}[{index}]",
                        word,
                        nearest=_offered_burn_words(part, tables).nearest(word),
                    )
                )
    return problems


@kept_of_tables(64)
def known_burn_words(part: str, tables: Tables) -> frozenset[str]:
    """The words for vessel, ground or lighting: those of the defaults, and whatever a rule asks
    for.
    """
    words = {word for _, row in tables.rows_of("methods", Defaults) for word in getattr(row, part)}
    for _, condition in all_conditions(tables):
        words.update(word.replace(" ", "-") for word in getattr(condition, part))
    return frozenset(words)


@kept_of_tables(64)
def _offered_burn_words(part: str, tables: Tables) -> NameIndex:
    """What to offer for a word that is not known: one that raises nothing for the same words alone,
    so that an oil drum is no new drum.
    """
    raising = {
        word.replace(" ", "-")
        for row in tables.rows["contaminants"].values()
        if isinstance(row, Contaminant)
        for rule in row.raised_by
        if (rule.permits or row.permits) != "ready"
        for word in getattr(rule, part)
    }
    return NameIndex(
        Name(word, words_of(word), word in raising, False, word not in raising)
        for word in sorted(known_burn_words(part, tables))
    )


@kept_of_tables(64)
def region_words(tables: Tables) -> frozenset[str]:
    """Every region that some rule knows, in upper case."""
    regions: set[str] = set()
    for _, condition in all_conditions(tables):
        regions.update(region.upper() for region in condition.regions)
    return frozenset(regions)


def known_region(region: str | None, tables: Tables) -> str | None:
    """The region in upper case, or None where no rule knows it: an unknown region counts as the
    worst.
    """
    word = region.upper() if region else None
    return word if word in region_words(tables) else None


def all_conditions(tables: Tables) -> Iterable[tuple[str, Condition]]:
    """Every condition of every rule, with the full name of its row."""
    for row_id, row in tables.rows["contaminants"].items():
        if isinstance(row, Contaminant):
            for rule in row.raised_by:
                yield row_id, rule
    for row_id, row in tables.rows["clears"].items():
        if isinstance(row, Clears):
            yield row_id, row.when
            if row.unless is not None:
                yield row_id, row.unless


@frozen
class Resolved:
    """A condition with its names looked up once."""

    signs: frozenset[str]
    origins: frozenset[str]
    not_origins: frozenset[str]
    materials: frozenset[str]
    vessel: frozenset[str]
    ground: frozenset[str]
    lighting: frozenset[str]
    regions: frozenset[str]
    given: Condition

    @property
    def of_the_burn(self) -> bool:
        """Whether it asks for the vessel, the ground or the lighting."""
        return bool(self.vessel or self.ground or self.lighting)

    def met(self, evidence: Evidence) -> bool:
        """Whether all parts of the condition hold. Parts that are not given ask for nothing."""
        asked = self.given
        return (
            self.signs <= evidence.signs
            and (
                not self.origins
                or evidence.origin in self.origins
                or evidence.counts_as in self.origins
            )
            and evidence.origin not in self.not_origins
            and (not self.materials or evidence.material in self.materials)
            and (not asked.classes or evidence.class_ in asked.classes)
            and (not asked.forms or evidence.form in asked.forms)
            and (not asked.traits or bool(evidence.traits & set(asked.traits)))
            and (asked.history is None or evidence.history_needed)
            and (asked.before is None or evidence.year is None or evidence.year < asked.before)
            and (asked.after is None or evidence.year is None or evidence.year >= asked.after)
            and (not self.regions or evidence.region is None or evidence.region in self.regions)
            and (not self.vessel or bool(self.vessel & evidence.vessel))
            and (not self.ground or bool(self.ground & evidence.ground))
            and (not self.lighting or bool(self.lighting & evidence.lighting))
            and (not asked.words or bool(said_words(asked.words, evidence)))
        )


@kept_of_tables(4096)
def resolved(condition: Condition, tables: Tables) -> Resolved:
    """The condition with every name looked up.

    Raises UnknownName, which a loaded table set rules out.
    """

    def names(kind: str, words: Iterable[str]) -> frozenset[str]:
        return frozenset(tables.find(kind, word) for word in words)

    return Resolved(
        names("signs", condition.signs),
        names("origins", condition.origins),
        names("origins", condition.not_origins),
        names("materials", condition.materials),
        frozenset(map(folded, condition.vessel)),
        frozenset(map(folded, condition.ground)),
        frozenset(map(folded, condition.lighting)),
        frozenset(r.upper() for r in condition.regions),
        condition,
    )


def holds(condition: Condition, evidence: Evidence, tables: Tables) -> bool:
    """Whether all parts of a condition hold."""
    return resolved(condition, tables).met(evidence)


def surely_holds(condition: Condition, evidence: Evidence, tables: Tables) -> bool:
    """As `holds`, but a year or a region that nobody has stated meets no condition on it."""
    dated = condition.before is not None or condition.after is not None
    return (
        (not dated or evidence.year is not None)
        and (not condition.regions or evidence.region is not None)
        and holds(condition, evidence, tables)
    )


def contents_added(
    row: Contaminant, evidence: Evidence, tables: Tables
) -> Mapping[str, AddedContent]:
    """The elements that a hypothesis brings to a lot, without those that its year and region
    exclude.
    """
    return {
        symbol: added
        for symbol, added in row.element_content.items()
        if not any(surely_holds(case, evidence, tables) for case in added.unless)
    }


def any_holds(condition: Condition, evidence: Evidence, tables: Tables) -> bool:
    """As `holds`, but one of several signs is enough: for what keeps a suspicion alive."""
    if not condition.signs:
        return holds(condition, evidence, tables)
    rest = condition.model_copy(update={"signs": ()})
    wanted = resolved(condition, tables).signs
    return bool(wanted & evidence.signs) and holds(rest, evidence, tables)


def parts_of(condition: Condition, evidence: Evidence, tables: Tables) -> tuple[Message, ...]:
    """The evidence that made a condition hold."""
    need = resolved(condition, tables)
    stated = [_part("sign", _word(tables, "signs", sign)) for sign in sorted(need.signs)]
    if need.origins or need.not_origins:
        stated.append(_part("origin", _word(tables, "origins", evidence.origin)))
    if condition.history or condition.forms or condition.classes or need.materials:
        stated.append(_part("material", _word(tables, "materials", evidence.material)))
    if condition.before is not None or condition.after is not None:
        stated.append(_part("year", None if evidence.year is None else str(evidence.year)))
    if need.regions:
        stated.append(_part("region", evidence.region or None))
    stated += [_part("wrote", word) for word in said_words(condition.words, evidence)]
    for word, wanted, seen in (
        ("vessel", need.vessel, evidence.vessel),
        ("ground", need.ground, evidence.ground),
        ("lighting", need.lighting, evidence.lighting),
    ):
        stated += [_part(word, item) for item in sorted(wanted & seen)]
    return tuple(stated)


def _part(what: str, value: str | Texts | None) -> Message:
    return Message(f"evidence.{what}", what=value)


def _word(tables: Tables, kind: str, row_id: str) -> Texts:
    return tables.rows[kind][row_id].called(row_id.partition(":")[2])
