"""The command line.

Exit status: 0 done; 1 done and something is not ready (only with --strict); 2 the input is wrong.
"""

from __future__ import annotations

import argparse
import dataclasses
import json
import os
import re
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from .errors import FeedstockError, InputError, Problem

if TYPE_CHECKING:
    from .results_after import Experience


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return the exit status."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    parser = _parser()
    given = parser.parse_args(arguments)
    try:
        text, status = given.run(given)
        sys.stdout.write(_plain_json(text) if getattr(given, "json", False) else text)
        sys.stdout.flush()
    except FeedstockError as why:
        sys.stderr.write(_told(why))
        return 2
    except BrokenPipeError:
        # the reader has gone; what it did not want is not an error
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130
    return int(status)


def _plain_json(text: str) -> str:
    """JSON in ASCII alone: a stream that replaces what it cannot show would change the names in
    it.
    """
    return re.sub(r"[^\x00-\x7f]", lambda sign: json.dumps(sign[0])[1:-1], text)


def _told(why: FeedstockError) -> str:
    count = len(why.problems) + why.left_out
    head = f"feedstock: {count} thing{'s' if count != 1 else ''} to mend; nothing was done\n"
    return head + "".join(f"  {line}\n" for line in str(why).split("\n"))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="feedstock",
        description="Appraise scrap plant matter before it is burned to char for garden soil.",
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    each = commands.add_parser(
        "appraise", help="what of a heap is fit, why, and how much char it gives"
    )
    each.add_argument("heap", metavar="HEAP", help="a heap or job file: .yaml, .json or .csv")
    _common(each)
    each.add_argument(
        "--why",
        metavar="FIGURE",
        help="explain one figure: char_mass, lots[0].moisture, lots.NAME.char_volume",
    )
    each.add_argument(
        "--experience",
        metavar="FILE",
        help="what own batches taught, as `feedstock learn --save` wrote it",
    )
    each.add_argument(
        "--strict",
        action="store_true",
        help="exit with 1 where a lot is to be kept out or checked first",
    )
    each.set_defaults(run=_appraise)
    each = commands.add_parser(
        "gather", help="what to take from a heap for a wanted amount of char"
    )
    each.add_argument("heap", metavar="HEAP", help="a heap or job file: .yaml, .json or .csv")
    each.add_argument(
        "--want",
        metavar="AMOUNT",
        required=True,
        help='how much char: "60 L", "8 kg" or "5 kg carbon"',
    )
    each.add_argument(
        "--confidence",
        type=float,
        default=0.8,
        metavar="SHARE",
        help="how sure it must be that there is enough (0.8)",
    )
    each.add_argument(
        "--whole-loads", action="store_true", help="fill up to whole loads of the job's burner"
    )
    each.add_argument("--experience", metavar="FILE", help="what own batches taught")
    _common(each)
    each.set_defaults(run=_gather)
    _after_commands(commands)
    _table_commands(commands.add_parser("tables", help="look at, check and compare tables"))
    return parser


def _after_commands(commands: Any) -> None:
    each = commands.add_parser("char", help="what the char is made of and fit for, and its carbon")
    each.add_argument("heap", metavar="HEAP", help="a heap or job file: .yaml, .json or .csv")
    each.add_argument(
        "--sign",
        metavar="SIGN",
        action="append",
        default=[],
        help="what is seen on the char: rings, greasy, brown streaks (may be repeated)",
    )
    each.add_argument(
        "--soil",
        metavar="TEMPERATURE",
        default="10 to 15 degC",
        help="yearly mean temperature of the bed (10 to 15 degC)",
    )
    each.add_argument("--experience", metavar="FILE", help="what own batches taught")
    _common(each)
    each.set_defaults(run=_char)
    each = commands.add_parser(
        "blend", help="char in compost: what to gather, water, C:N, the heap, the beds"
    )
    each.add_argument(
        "mix",
        metavar="MIX",
        help="a .yaml or .json file with char, parts and at will fraction, by, dressing, depth",
    )
    _common(each, limits=False)
    each.set_defaults(run=_blend)
    each = commands.add_parser(
        "learn", help="what own batches teach, and whether the forecasts were right"
    )
    each.add_argument(
        "batches", metavar="BATCHES", help="a record of batches: .yaml, .json or .csv"
    )
    each.add_argument(
        "--save",
        metavar="FILE",
        help="write what was learnt as JSON, for `feedstock appraise --experience`",
    )
    each.add_argument(
        "--person", metavar="NAME", help="whose batches, where the record holds those of several"
    )
    _common(each, limits=False)
    each.set_defaults(run=_learn)


def _table_commands(tables: argparse.ArgumentParser) -> None:
    commands = tables.add_subparsers(dest="what", required=True, metavar="WHAT")
    each = commands.add_parser("list", help="the sets in use and their rows")
    each.add_argument("kind", nargs="?", help="materials, burners, signs, origins ...")
    each.set_defaults(run=_tables_list)
    show = commands.add_parser("show", help="a row with every value, its interval and its source")
    show.add_argument("name", metavar="NAME")
    show.set_defaults(run=_tables_show)
    for one in (each, show):
        one.add_argument(
            "--tables",
            metavar="PATH",
            action="append",
            default=[],
            help="a table file or folder to lay on top (may be repeated)",
        )
    each = commands.add_parser(
        "check", help="everything that is wrong with a set, and what it changes"
    )
    each.add_argument("path", metavar="PATH")
    each.add_argument("--json", action="store_true", help="the report as JSON")
    each.set_defaults(run=_tables_check)
    each = commands.add_parser("new", help="write a commented starter package into a new folder")
    each.add_argument("path", metavar="DIR")
    each.set_defaults(run=_tables_new)
    each = commands.add_parser("schema", help="the JSON Schema of table files, for editors")
    each.set_defaults(run=_tables_schema)
    each = commands.add_parser(
        "diff", help="what differs between two sets, row by row and on the panel of heaps"
    )
    each.add_argument("before", metavar="A", help="a set, or the word reference")
    each.add_argument("after", metavar="B", help="a set, or the word reference")
    each.add_argument("--json", action="store_true", help="the differences as JSON")
    each.set_defaults(run=_tables_diff)


def _common(each: argparse.ArgumentParser, limits: bool = True) -> None:
    each.add_argument(
        "--tables",
        metavar="PATH",
        action="append",
        default=[],
        help="a table file or folder to lay on top (may be repeated)",
    )
    if limits:
        each.add_argument("--limits", metavar="NAME", help="the set of limits to judge by")
    each.add_argument(
        "--units", choices=("metric", "us"), default="metric", help="units of the text"
    )
    each.add_argument("--json", action="store_true", help="the result as JSON")


def _appraise(given: argparse.Namespace) -> tuple[str, int]:
    from .appraise import appraise
    from .heap import Job
    from .render.screen import appraisal_text, explanation_text
    from .results import Verdict
    from .tables import load_tables

    job = Job.read(given.heap)
    tables = load_tables(*_table_paths(given, job.tables))
    result = appraise(
        job.heap,
        job.burn,
        tables,
        given.limits if given.limits is not None else job.limits,
        _experience(given),
    )
    status = 1 if given.strict and result.verdict >= Verdict.CHECK_FIRST else 0
    if given.why is not None:
        found = result.explain(given.why)
        return (
            json.dumps(dataclasses.asdict(found), indent=2) + "\n"
            if given.json
            else explanation_text(found, given.units)
        ), status
    return (
        result.model_dump_json(indent=2) + "\n"
        if given.json
        else appraisal_text(result, given.units)
    ), status


def _gather(given: argparse.Namespace) -> tuple[str, int]:
    from .appraise import gather
    from .heap import Job
    from .render.plan import gathering_text
    from .tables import load_tables

    job = Job.read(given.heap)
    tables = load_tables(*_table_paths(given, job.tables))
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


def _experience(given: argparse.Namespace) -> Experience | None:
    from .results_after import Experience

    return Experience.read(given.experience) if given.experience else None


def _char(given: argparse.Namespace) -> tuple[str, int]:
    from .after.carbon import carbon
    from .after.quality import quality
    from .appraise import appraise
    from .heap import Job
    from .render.after import quality_text
    from .tables import load_tables

    job = Job.read(given.heap)
    tables = load_tables(*_table_paths(given, job.tables))
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
    return quality_text(found, lasting, given.units), 0


def _blend(given: argparse.Namespace) -> tuple[str, int]:
    from .after.beds import beds
    from .after.blend import blend
    from .after.given import MixFile
    from .render.after import blend_text
    from .tables import load_tables

    mix = MixFile.read(given.mix)
    tables = load_tables(*given.tables)
    found = blend(mix.char, mix.parts, mix.fraction, by=mix.by, tables=tables)
    bed = beds(mix.char, mix.dressing, depth=mix.depth, tables=tables)
    if given.json:
        return json.dumps(
            {"blend": found.model_dump(mode="json"), "beds": bed.model_dump(mode="json")}, indent=2
        ) + "\n", 0
    return blend_text(found, bed, given.units), 0


def _learn(given: argparse.Namespace) -> tuple[str, int]:
    from .after.check import check
    from .after.learn import learn
    from .after.records import BatchRecord
    from .render.after import experience_text
    from .tables import load_tables

    records = BatchRecord.read(given.batches)
    tables = load_tables(*given.tables)
    found = learn(records, tables, given.person)
    told = check(
        [
            each
            for each in records
            if given.person is None or (each.person or "").casefold() == given.person.casefold()
        ],
        None,
        tables,
    )
    text = (
        found.model_dump_json(indent=2) + "\n"
        if given.json
        else experience_text(found, told, given.units)
    )
    if given.save:
        try:
            found.save(given.save)
        except OSError as why:
            raise InputError(
                [
                    Problem(
                        "unwritable",
                        f"this cannot be written ({why.strerror or why})",
                        "Give a file in a folder that may be written.",
                        file=given.save,
                    )
                ]
            ) from None
    return text, 0


def _tables_list(given: argparse.Namespace) -> tuple[str, int]:
    from .errors import InputError, nearest_names
    from .kit.show import KINDS, listing
    from .tables import load_tables

    if given.kind is not None and given.kind not in KINDS:
        raise InputError(
            [
                Problem(
                    "unknown-word",
                    f"'{given.kind}' is not a kind of row",
                    f"Kinds: {', '.join(KINDS)}.",
                    nearest=nearest_names(given.kind, KINDS),
                )
            ]
        )
    return "\n".join(listing(load_tables(*given.tables), given.kind)) + "\n", 0


def _tables_show(given: argparse.Namespace) -> tuple[str, int]:
    from .errors import UnknownName
    from .kit.show import KINDS, found_rows, shown
    from .tables import load_tables

    tables = load_tables(*given.tables)
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


def _tables_check(given: argparse.Namespace) -> tuple[str, int]:
    from .kit.check import check
    from .render.tables import report_text
    from .tables import TableSource

    report = check(TableSource.of(given.path))
    text = (
        json.dumps(dataclasses.asdict(report), indent=2) + "\n"
        if given.json
        else report_text(report)
    )
    return text, 0 if report.passed else 2


def _tables_new(given: argparse.Namespace) -> tuple[str, int]:
    from .kit.new import starter

    files = starter(Path(given.path))
    return "".join(f"wrote {path}\n" for path in files), 0


def _tables_schema(given: argparse.Namespace) -> tuple[str, int]:
    from .kit.schema import json_schema

    return json.dumps(json_schema(), indent=1) + "\n", 0


def _tables_diff(given: argparse.Namespace) -> tuple[str, int]:
    from .kit.check import load_pair
    from .kit.diff import differences
    from .kit.panel import changes
    from .render.tables import diff_text
    from .tables import TableSource, load_tables

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


def problem_lines(problems: Sequence[Problem]) -> str:
    """One problem a line, as every command prints them."""
    return "".join(f"{problem}\n" for problem in problems)
