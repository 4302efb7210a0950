"""What each command does."""

from __future__ import annotations

import argparse
import dataclasses
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from ..errors import FeedstockError, InputError, Problem, missing_extra

if TYPE_CHECKING:
    from ..model.experience import Experience
    from ..model.inputs.burn import Burn
    from ..tables.tables import Tables
    from ..words import Message


def _of_rows(args: argparse.Namespace, tables: Tables) -> tuple[str, int]:
    """A register row by row into a file; what is told is the sums."""
    try:
        from ..columns.stream import appraise_file
    except ImportError:
        raise InputError([missing_extra("columns", "--rows")]) from None

    def progress(rows: int) -> None:
        if sys.stderr is not None and sys.stderr.isatty():
            print(f"\r{rows:,} rows", end="", file=sys.stderr, flush=True)

    experience = _experience(args)
    done = appraise_file(args.heap, args.rows, None, tables, args.limits, experience, progress)
    lines = [f"wrote {args.rows}: {done.rows - done.refused:,} of {done.rows:,} rows"]
    if done.refused:
        lines.append(f"{done.refused:,} rows with problems: {done.problems}")
    lines += [
        f"{name.replace('_', ' ')}: {getattr(done.sums, name)}"
        for name in ("dry_mass", "char_mass", "char_volume", "char_carbon")
    ]
    return "\n".join(lines) + "\n", 1 if args.strict and done.refused else 0


def run_appraise(args: argparse.Namespace) -> tuple[str, int]:
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

    if args.rows is not None:
        return _of_rows(args, load_tables(*_table_paths(args, ()), plugins=not args.no_plugins))
    job = Job.read(args.heap)
    tables = load_tables(*_table_paths(args, job.tables), plugins=not args.no_plugins)
    # a program reads what was asked for; a person is told what a burner of the usual size does
    burn, usual = (job.burn, None) if args.json else _planned_for(job.burn, tables)
    result = appraise(
        job.heap,
        burn,
        tables,
        args.limits if args.limits is not None else job.limits,
        _experience(args),
    )
    if usual is not None:
        result = result.noting(usual)
    status = 1 if args.strict and result.verdict >= Verdict.CHECK_FIRST else 0
    if args.why is not None:
        explanation = result.explain(args.why)
        return (
            TypeAdapter(Explanation).dump_json(explanation, indent=2).decode() + "\n"
            if args.json
            else page(explanation, args.units, full=args.full)
        ), status
    if args.lot is not None:
        lot = lot_named(result, args.lot)
        shown = lot.model_dump_json(indent=2) + "\n" if args.json else lot_page(lot, args.units)
        return shown, status
    if args.sheet is not None:
        made = sheet(result, args.units, bucket=args.bucket, barrow=args.barrow)
        write_whole(args.sheet, made)
        return f"wrote {args.sheet}\n", status
    return (
        result.model_dump_json(indent=2) + "\n"
        if args.json
        else page(result, args.units, full=args.full, bucket=args.bucket, barrow=args.barrow)
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


def run_gather(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock gather`: the text and the exit status."""
    from ..model.inputs.heap import Job
    from ..pipeline import gather
    from ..tables.loading.load import load_tables
    from ..text.plan import gathering_text

    job = Job.read(args.heap)
    tables = load_tables(*_table_paths(args, job.tables), plugins=not args.no_plugins)
    gathering = gather(
        args.want,
        job.heap,
        job.burn,
        tables,
        args.limits if args.limits is not None else job.limits,
        experience=_experience(args),
        confidence=args.confidence,
        whole_loads=args.whole_loads,
    )
    return (
        gathering.model_dump_json(indent=2) + "\n"
        if args.json
        else gathering_text(gathering, args.units)
    ), 0


def run_size(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock size`: the text and the exit status."""
    from ..model.inputs.burn import Burn
    from ..model.inputs.heap import Job
    from ..pipeline import size
    from ..tables.loading.load import load_tables
    from ..text.plan import sizing_text

    job = Job.read(args.heap)
    tables = load_tables(*_table_paths(args, job.tables), plugins=not args.no_plugins)
    burn = job.burn
    if args.burner is not None or burn is None:
        burn = Burn(burner=args.burner or "cone pit")
    sizing = size(
        job.heap,
        burn,
        args.loads,
        tables,
        args.limits if args.limits is not None else job.limits,
        experience=_experience(args),
    )
    return (
        sizing.model_dump_json(indent=2) + "\n" if args.json else sizing_text(sizing, args.units)
    ), 0


def _experience(args: argparse.Namespace) -> Experience | None:
    from ..model.experience import Experience

    return Experience.read(args.experience) if args.experience else None


def run_char(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock char`: the text and the exit status."""
    from ..char.carbon import carbon
    from ..char.quality import quality
    from ..model.inputs.heap import Job
    from ..pipeline import appraise
    from ..tables.loading.load import load_tables
    from ..text.after import quality_text

    job = Job.read(args.heap)
    tables = load_tables(*_table_paths(args, job.tables), plugins=not args.no_plugins)
    result = appraise(
        job.heap,
        job.burn,
        tables,
        args.limits if args.limits is not None else job.limits,
        _experience(args),
    )
    qualities, lasting = quality(result, args.sign, tables), carbon(result, args.soil, tables)
    if args.json:
        return json.dumps(
            {
                "quality": qualities.model_dump(mode="json"),
                "carbon": lasting.model_dump(mode="json"),
            },
            indent=2,
        ) + "\n", 0
    return quality_text(qualities, lasting, args.units, full=args.full), 0


def run_blend(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock blend`: the text and the exit status."""
    from ..compost.beds import beds
    from ..compost.blend import blend
    from ..compost.containers import recipe
    from ..compost.inputs import MixFile
    from ..tables.loading.load import load_tables
    from ..text import litres_of
    from ..text.after import blend_text

    mix = MixFile.read(args.mix)
    tables = load_tables(*args.tables, plugins=not args.no_plugins)
    mixture = blend(mix.char, mix.parts, mix.fraction, by=mix.by, tables=tables)
    bed = beds(mix.char, mix.dressing, depth=mix.depth, tables=tables)
    if args.json:
        return json.dumps(
            {"blend": mixture.model_dump(mode="json"), "beds": bed.model_dump(mode="json")},
            indent=2,
        ) + "\n", 0
    recipes = [
        recipe(mixture, name, litres_of(size, name))
        for name, size in (("bucket", args.bucket), ("barrow", args.barrow))
        if size is not None
    ]
    return blend_text(mixture, bed, args.units, recipes=recipes), 0


def run_learn(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock learn`: the text and the exit status."""
    from ..experience.check import check_burn as check
    from ..experience.learn import learn
    from ..experience.records import BatchRecord
    from ..tables.loading.load import load_tables
    from ..text.after import experience_text

    records = BatchRecord.read(args.batches)
    tables = load_tables(*args.tables, plugins=not args.no_plugins)
    experience = learn(records, tables, args.person)
    checked = check(
        [
            record
            for record in records
            if args.person is None or (record.person or "").casefold() == args.person.casefold()
        ],
        None,
        tables,
    )
    text = (
        experience.model_dump_json(indent=2) + "\n"
        if args.json
        else experience_text(experience, checked, args.units)
    )
    if args.save is not None:
        experience.save(args.save)
    return text, 0


def run_tables_list(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables list`: the text and the exit status."""
    from ..contrib.listing import listing_data, listing_text
    from ..tables.loading.load import load_tables

    tables = load_tables(*args.tables, plugins=not args.no_plugins)
    if args.json:
        return json.dumps(listing_data(tables, args.kind, args.search), indent=1) + "\n", 0
    return listing_text(tables, args.kind, args.search), 0


def run_tables_show(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables show`: the text and the exit status."""
    from ..contrib.show import KINDS, found_rows, shown
    from ..errors import UnknownName
    from ..tables.loading.load import load_tables

    tables = load_tables(*args.tables, plugins=not args.no_plugins)
    rows = found_rows(tables, args.name)
    if not rows:
        near = [name for kind in KINDS for name in tables.index(kind).nearest(args.name)][:3]
        raise UnknownName(
            [
                Problem(
                    "unknown-row",
                    f"no row goes by '{args.name}'",
                    "Write a name that `feedstock tables list` shows.",
                    nearest=tuple(near),
                )
            ]
        )
    return "\n\n".join("\n".join(shown(tables, kind, full)) for kind, full in rows) + "\n", 0


def run_tables_cite(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables cite`: the text and the exit status."""
    from ..contrib.cite import bibtex, cited_sources, csl_items
    from ..tables.loading.load import load_tables

    sources = cited_sources(load_tables(*args.tables, plugins=not args.no_plugins), args.name)
    if args.json:
        return json.dumps(csl_items(sources), indent=1) + "\n", 0
    return bibtex(sources), 0


def run_tables_check(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables check`: the text and the exit status."""
    from ..contrib.check import check
    from ..contrib.report import report_text
    from ..tables.loading.source import TableSource

    report = check(TableSource.of(args.path))
    text = (
        json.dumps(dataclasses.asdict(report), indent=2) + "\n"
        if args.json
        else report_text(report)
    )
    return text, 0 if report.passed else 2


def run_tables_new(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables new`: the text and the exit status."""
    from ..contrib.new import starter

    files = starter(Path(args.path))
    return "".join(f"wrote {path}\n" for path in files), 0


def run_tables_schema(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables schema`: the text and the exit status."""
    from ..contrib.field_page import field_page
    from ..contrib.json_schema import json_schema

    if args.text:
        return field_page(args.word), 0
    return json.dumps(json_schema(), indent=1) + "\n", 0


def run_tables_diff(args: argparse.Namespace) -> tuple[str, int]:
    """`feedstock tables diff`: the text and the exit status."""
    from ..contrib.check import load_pair
    from ..contrib.diff import differences
    from ..contrib.panel import changes
    from ..contrib.report import diff_text
    from ..tables.loading.load import load_tables
    from ..tables.loading.source import TableSource

    before, after = (
        load_tables(plugins=False) if path == "reference" else load_pair(TableSource.of(path))
        for path in (args.before, args.after)
    )
    rows, effects = differences(before, after), changes(before, after)
    if args.json:
        return json.dumps(
            {
                "rows": [dataclasses.asdict(d) for d in rows],
                "panel": [dataclasses.asdict(c) for c in effects],
            },
            indent=2,
        ) + "\n", 0
    return diff_text(rows, effects), 0


def _table_paths(args: argparse.Namespace, of_job: Sequence[str]) -> list[str]:
    """The job's own tables, relative to its file, then those of the command line."""
    folder = Path(args.heap).parent
    return [*(str(folder / path) for path in of_job), *args.tables]
