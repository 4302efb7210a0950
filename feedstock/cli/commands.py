"""What each command does."""

from __future__ import annotations

import argparse
import dataclasses
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import FeedstockError, InputError, Problem

if TYPE_CHECKING:
    from ..model.experience import Experience
    from ..model.inputs.burn import Burn
    from ..tables.tables import Tables
    from ..words import Message


def _of_rows(given: argparse.Namespace, tables: Tables) -> tuple[str, int]:
    """A register row by row into a file; what is told is the sums."""
    try:
        from ..columns.stream import appraise_file
    except ImportError:
        what, remedy = "this needs numpy and pyarrow", "pip install 'feedstock[columns]'."
        raise InputError([Problem("missing-library", what, remedy)]) from None

    def progress(rows: int) -> None:
        if sys.stderr is not None and sys.stderr.isatty():
            print(f"\r{rows:,} rows", end="", file=sys.stderr, flush=True)

    mine = _experience(given)
    done = appraise_file(given.heap, given.rows, None, tables, given.limits, mine, progress)
    told = [f"wrote {given.rows}: {done.rows - done.refused:,} of {done.rows:,} rows"]
    if done.refused:
        told.append(f"{done.refused:,} rows with problems: {done.problems}")
    told += [
        f"{name.replace('_', ' ')}: {getattr(done.sums, name)}"
        for name in ("dry_mass", "char_mass", "char_volume", "char_carbon")
    ]
    return "\n".join(told) + "\n", 1 if given.strict and done.refused else 0


def run_appraise(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock appraise`: the text and the exit status."""
    from pydantic import TypeAdapter

    from ..documents.writing import write_whole
    from ..model.explanation import Explanation
    from ..model.findings import Verdict
    from ..model.inputs.heap import Job
    from ..pipeline import appraise
    from ..tables.loading.load import load_tables
    from ..text import lot_page, page, sheet
    from .names import lot_named

    if given.rows is not None:
        return _of_rows(given, load_tables(*_table_paths(given, ()), plugins=not given.no_plugins))
    job = Job.read(given.heap)
    tables = load_tables(*_table_paths(given, job.tables), plugins=not given.no_plugins)
    # a program reads what was asked for; a person is told what a burner of the usual size does
    burn, usual = (job.burn, None) if given.json else _planned_for(job.burn, tables)
    result = appraise(
        job.heap,
        burn,
        tables,
        given.limits if given.limits is not None else job.limits,
        _experience(given),
    )
    if usual is not None:
        result = result.noting(usual)
    status = 1 if given.strict and result.verdict >= Verdict.CHECK_FIRST else 0
    if given.why is not None:
        found = result.explain(given.why)
        return (
            TypeAdapter(Explanation).dump_json(found, indent=2).decode() + "\n"
            if given.json
            else page(found, given.units, full=given.full)
        ), status
    if given.lot is not None:
        lot = lot_named(result, given.lot)
        shown = lot.model_dump_json(indent=2) + "\n" if given.json else lot_page(lot, given.units)
        return shown, status
    if given.sheet is not None:
        made = sheet(result, given.units, bucket=given.bucket, barrow=given.barrow)
        write_whole(given.sheet, made)
        return f"wrote {given.sheet}\n", status
    return (
        result.model_dump_json(indent=2) + "\n"
        if given.json
        else page(result, given.units, full=given.full, bucket=given.bucket, barrow=given.barrow)
    ), status


def _planned_for(burn: Burn | None, tables: Tables) -> tuple[Burn | None, Message | None]:
    """The burn of the usual size where no measures were given; what is wrong with it is told with
    its place when the heap is appraised.
    """
    from ..burn.burner import usual_burn

    try:
        return usual_burn(burn, tables)
    except FeedstockError:
        return burn, None


def run_gather(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock gather`: the text and the exit status."""
    from ..model.inputs.heap import Job
    from ..pipeline import gather
    from ..tables.loading.load import load_tables
    from ..text.plan import gathering_text

    job = Job.read(given.heap)
    tables = load_tables(*_table_paths(given, job.tables), plugins=not given.no_plugins)
    found = gather(
        given.want,
        job.heap,
        job.burn,
        tables,
        given.limits if given.limits is not None else job.limits,
        experience=_experience(given),
        confidence=given.confidence,
        whole_loads=given.whole_loads,
    )
    return (
        found.model_dump_json(indent=2) + "\n" if given.json else gathering_text(found, given.units)
    ), 0


def run_size(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock size`: the text and the exit status."""
    from ..model.inputs.burn import Burn
    from ..model.inputs.heap import Job
    from ..pipeline import size
    from ..tables.loading.load import load_tables
    from ..text.plan import sizing_text

    job = Job.read(given.heap)
    tables = load_tables(*_table_paths(given, job.tables), plugins=not given.no_plugins)
    burn = job.burn
    if given.burner is not None or burn is None:
        burn = Burn(burner=given.burner or "cone pit")
    found = size(
        job.heap,
        burn,
        given.loads,
        tables,
        given.limits if given.limits is not None else job.limits,
        experience=_experience(given),
    )
    return (
        found.model_dump_json(indent=2) + "\n" if given.json else sizing_text(found, given.units)
    ), 0


def _experience(given: argparse.Namespace) -> Experience | None:
    from ..model.experience import Experience

    return Experience.read(given.experience) if given.experience else None


def run_char(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock char`: the text and the exit status."""
    from ..char.carbon import carbon
    from ..char.quality import quality
    from ..model.inputs.heap import Job
    from ..pipeline import appraise
    from ..tables.loading.load import load_tables
    from ..text.after import quality_text

    job = Job.read(given.heap)
    tables = load_tables(*_table_paths(given, job.tables), plugins=not given.no_plugins)
    result = appraise(
        job.heap,
        job.burn,
        tables,
        given.limits if given.limits is not None else job.limits,
        _experience(given),
    )
    found, lasting = quality(result, given.sign, tables), carbon(result, given.soil, tables)
    if given.json:
        return json.dumps(
            {"quality": found.model_dump(mode="json"), "carbon": lasting.model_dump(mode="json")},
            indent=2,
        ) + "\n", 0
    return quality_text(found, lasting, given.units, full=given.full), 0


def run_blend(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock blend`: the text and the exit status."""
    from ..compost.beds import beds
    from ..compost.blend import blend
    from ..compost.containers import recipe
    from ..compost.inputs import MixFile
    from ..tables.loading.load import load_tables
    from ..text import litres_of
    from ..text.after import blend_text

    mix = MixFile.read(given.mix)
    tables = load_tables(*given.tables, plugins=not given.no_plugins)
    found = blend(mix.char, mix.parts, mix.fraction, by=mix.by, tables=tables)
    bed = beds(mix.char, mix.dressing, depth=mix.depth, tables=tables)
    if given.json:
        return json.dumps(
            {"blend": found.model_dump(mode="json"), "beds": bed.model_dump(mode="json")}, indent=2
        ) + "\n", 0
    told = [
        recipe(found, name, litres_of(size, name))
        for name, size in (("bucket", given.bucket), ("barrow", given.barrow))
        if size is not None
    ]
    return blend_text(found, bed, given.units, recipes=told), 0


def run_learn(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock learn`: the text and the exit status."""
    from ..experience.check import check_burn as check
    from ..experience.learn import learn
    from ..experience.records import BatchRecord
    from ..tables.loading.load import load_tables
    from ..text.after import experience_text

    records = BatchRecord.read(given.batches)
    tables = load_tables(*given.tables, plugins=not given.no_plugins)
    found = learn(records, tables, given.person)
    told = check(
        [
            record
            for record in records
            if given.person is None or (record.person or "").casefold() == given.person.casefold()
        ],
        None,
        tables,
    )
    text = (
        found.model_dump_json(indent=2) + "\n"
        if given.json
        else experience_text(found, told, given.units)
    )
    if given.save is not None:
        found.save(given.save)
    return text, 0


def run_tables_list(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables list`: the text and the exit status."""
    from ..contrib.listing import listing_data, listing_text
    from ..tables.loading.load import load_tables

    tables = load_tables(*given.tables, plugins=not given.no_plugins)
    if given.json:
        return json.dumps(listing_data(tables, given.kind, given.search), indent=1) + "\n", 0
    return listing_text(tables, given.kind, given.search), 0


def run_tables_show(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables show`: the text and the exit status."""
    from ..contrib.show import KINDS, found_rows, shown
    from ..errors import UnknownName
    from ..tables.loading.load import load_tables

    tables = load_tables(*given.tables, plugins=not given.no_plugins)
    rows = found_rows(tables, given.name)
    if not rows:
        near = [name for kind in KINDS for name in tables.index(kind).nearest(given.name)][:3]
        raise UnknownName(
            [
                Problem(
                    "unknown-row",
                    f"no row goes by '{given.name}'",
                    "Write a name that `feedstock tables list` shows.",
                    nearest=tuple(near),
                )
            ]
        )
    return "\n\n".join("\n".join(shown(tables, kind, full)) for kind, full in rows) + "\n", 0


def run_tables_cite(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables cite`: the text and the exit status."""
    from ..contrib.cite import bibtex, cited_sources, csl_items
    from ..tables.loading.load import load_tables

    sources = cited_sources(load_tables(*given.tables, plugins=not given.no_plugins), given.name)
    if given.json:
        return json.dumps(csl_items(sources), indent=1) + "\n", 0
    return bibtex(sources), 0


def run_tables_check(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables check`: the text and the exit status."""
    from ..contrib.check import check
    from ..contrib.report import report_text
    from ..tables.loading.source import TableSource

    report = check(TableSource.of(given.path))
    text = (
        json.dumps(dataclasses.asdict(report), indent=2) + "\n"
        if given.json
        else report_text(report)
    )
    return text, 0 if report.passed else 2


def run_tables_new(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables new`: the text and the exit status."""
    from ..contrib.new import starter

    files = starter(Path(given.path))
    return "".join(f"wrote {path}\n" for path in files), 0


def run_tables_schema(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables schema`: the text and the exit status."""
    from ..contrib.field_page import field_page
    from ..contrib.json_schema import json_schema

    if given.text:
        return field_page(given.word), 0
    return json.dumps(json_schema(), indent=1) + "\n", 0


def run_tables_diff(given: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables diff`: the text and the exit status."""
    from ..contrib.check import load_pair
    from ..contrib.diff import differences
    from ..contrib.panel import changes
    from ..contrib.report import diff_text
    from ..tables.loading.load import load_tables
    from ..tables.loading.source import TableSource

    before, after = (
        load_tables(plugins=False) if path == "reference" else load_pair(TableSource.of(path))
        for path in (given.before, given.after)
    )
    found, effects = differences(before, after), changes(before, after)
    if given.json:
        return json.dumps(
            {
                "rows": [dataclasses.asdict(d) for d in found],
                "panel": [dataclasses.asdict(c) for c in effects],
            },
            indent=2,
        ) + "\n", 0
    return diff_text(found, effects), 0


def _table_paths(given: argparse.Namespace, of_job: Sequence[str]) -> list[str]:
    """The job's own tables, relative to its file, then those of the command line."""
    folder = Path(given.heap).parent
    return [*(str(folder / path) for path in of_job), *given.tables]
