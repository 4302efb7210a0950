"""The commands and their options."""

from __future__ import annotations

import argparse
from typing import Any

from . import record, schema
from .commands import (
    run_appraise,
    run_blend,
    run_char,
    run_gather,
    run_learn,
    run_size,
    run_tables_check,
    run_tables_cite,
    run_tables_diff,
    run_tables_list,
    run_tables_new,
    run_tables_schema,
    run_tables_show,
)

HEAP_FILE = """\
a heap file, for instance heap.yaml:
  name: behind the shed
  lots:
    - name: plum limbs
      material: plum             # feedstock tables list materials
      pieces: {count: 30, diameter: 55 mm, length: 90 cm}
      moisture: {reading: 20 % dry, by: pin}
      origin: own trees          # feedstock tables list origins
    - name: pallets
      material: pallet wood
      mass: 30 kg                # or containers: {count: 3, of: wheelbarrow}
      moisture: {condition: seasoned}
      origin: pallet
      signs: [mark HT, bare wood]  # feedstock tables list signs
  burn: {burner: cone pit, diameter: 1.1 m, depth: 45 cm}

then: feedstock appraise heap.yaml, and to print it: --sheet sheet.html
every field: feedstock schema job
"""


def made_parser() -> argparse.ArgumentParser:
    """The parser of the whole command line."""
    parser = argparse.ArgumentParser(
        prog="feedstock",
        description="Appraise scrap plant matter before it is burned to char for garden soil.",
        epilog="How a heap is written: feedstock appraise --help",
    )
    parser.add_argument("--version", action=_Version, nargs=0, help="show the version and leave")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _appraise_command(commands)
    _gather_command(commands)
    _size_command(commands)
    _after_commands(commands)
    schema.add_command(commands)
    _table_commands(commands.add_parser("tables", help="look at, check and compare tables"))
    return parser


class _Version(argparse.Action):
    """The version, looked up when it is asked for."""

    def __call__(self, parser: argparse.ArgumentParser, *_: Any) -> None:
        from importlib.metadata import PackageNotFoundError, version

        try:
            number = version("feedstock")
        except PackageNotFoundError:
            number = "(not installed, so its version is not known)"
        print("feedstock", number)
        parser.exit()


def _appraise_command(commands: Any) -> None:
    parser = commands.add_parser(
        "appraise",
        help="what of a heap is fit, why, and how much char it gives",
        epilog=HEAP_FILE,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    _heap(parser)
    _common(parser)
    parser.add_argument(
        "--sheet", metavar="FILE.html", help="write the sheet to print, for a browser"
    )
    parser.add_argument(
        "--rows",
        metavar="OUT",
        help="appraise every row of a .csv or .parquet register by itself, into another such file",
    )
    _own_containers(parser, "litres")
    parser.add_argument("--lot", metavar="NAME", help="one lot whole, with its sources")
    parser.add_argument(
        "--full", action="store_true", help="everything: all lots, findings, cautions and sources"
    )
    parser.add_argument(
        "--why",
        metavar="FIGURE",
        help="explain one figure: char_mass, lots[0].moisture, lots.NAME.char_volume",
    )
    _experience(parser)
    parser.add_argument(
        "--strict",
        action="store_true",
        help="exit with 1 where a lot is to be kept out or checked first",
    )
    parser.set_defaults(run=run_appraise)


def _gather_command(commands: Any) -> None:
    parser = commands.add_parser(
        "gather", help="what to take from a heap for a wanted amount of char"
    )
    _heap(parser)
    parser.add_argument(
        "--want",
        metavar="AMOUNT",
        required=True,
        help='how much char: "60 L", "8 kg" or "5 kg carbon"',
    )
    parser.add_argument(
        "--confidence",
        type=float,
        default=0.8,
        metavar="SHARE",
        help="how sure it must be that there is enough (0.8)",
    )
    parser.add_argument(
        "--whole-loads", action="store_true", help="fill up to whole loads of the job's burner"
    )
    _experience(parser)
    _common(parser)
    parser.set_defaults(run=run_gather)


def _size_command(commands: Any) -> None:
    parser = commands.add_parser(
        "size", help="how wide and deep a vessel is to be for a heap in so many loads"
    )
    _heap(parser)
    parser.add_argument(
        "--burner", metavar="NAME", help="what it is burnt in (the job's burner, else a cone pit)"
    )
    parser.add_argument("--loads", type=int, default=1, metavar="N", help="in so many loads (1)")
    _experience(parser)
    _common(parser)
    parser.set_defaults(run=run_size)


def _blend_command(commands: Any) -> None:
    parser = commands.add_parser(
        "blend", help="char in compost: what to gather, water, C:N, the heap, the beds"
    )
    parser.add_argument(
        "mix",
        metavar="MIX",
        help="a .yaml or .json file with char, parts and at will fraction, by, dressing, depth",
    )
    _own_containers(parser, "the recipe")
    _common(parser, limits=False)
    parser.set_defaults(run=run_blend)


def _after_commands(commands: Any) -> None:
    parser = commands.add_parser(
        "char", help="what the char is made of and fit for, and its carbon"
    )
    _heap(parser)
    parser.add_argument(
        "--sign",
        metavar="SIGN",
        action="append",
        default=[],
        help="what is seen on the char: rings, greasy, brown streaks (may be repeated)",
    )
    parser.add_argument(
        "--soil",
        metavar="TEMPERATURE",
        default="10 to 15 degC",
        help="yearly mean temperature of the bed (10 to 15 degC)",
    )
    parser.add_argument("--full", action="store_true", help="every class, with its limits")
    _experience(parser)
    _common(parser)
    parser.set_defaults(run=run_char)
    _blend_command(commands)
    record.add_command(commands, _common)
    parser = commands.add_parser(
        "learn", help="what own batches teach, and whether the forecasts were right"
    )
    parser.add_argument(
        "batches", metavar="BATCHES", help="a record of batches: .yaml, .json or .csv"
    )
    parser.add_argument(
        "--save",
        metavar="FILE",
        help="write what was learnt as JSON, for `feedstock appraise --experience`",
    )
    parser.add_argument(
        "--person", metavar="NAME", help="whose batches, where the record holds those of several"
    )
    _common(parser, limits=False)
    parser.set_defaults(run=run_learn)


def _table_commands(tables: argparse.ArgumentParser) -> None:
    commands = tables.add_subparsers(dest="what", required=True, metavar="WHAT")
    parser = commands.add_parser("list", help="the sets in use and their rows")
    parser.add_argument("kind", nargs="?", help="materials, burners, signs, origins ...")
    parser.add_argument(
        "--search", metavar="WORD", default="", help="only rows that have it in a name"
    )
    parser.add_argument("--json", action="store_true", help="the sets and rows as JSON")
    parser.set_defaults(run=run_tables_list)
    show = commands.add_parser("show", help="a row with every value, its interval and its source")
    show.add_argument("name", metavar="NAME")
    show.set_defaults(run=run_tables_show)
    cite = commands.add_parser(
        "cite", help="the sources, all or those of named rows, as BibTeX or CSL JSON"
    )
    cite.add_argument("name", nargs="*", metavar="NAME", help="a row, or a source by its key")
    cite.add_argument("--json", action="store_true", help="CSL JSON, for a reference manager")
    cite.set_defaults(run=run_tables_cite)
    for one in (parser, show, cite):
        _tables_options(one)
    parser = commands.add_parser(
        "check", help="everything that is wrong with a set, and what it changes"
    )
    parser.add_argument("path", metavar="PATH")
    parser.add_argument("--json", action="store_true", help="the report as JSON")
    parser.set_defaults(run=run_tables_check)
    parser = commands.add_parser("new", help="write a commented starter package into a new folder")
    parser.add_argument("path", metavar="DIR")
    parser.set_defaults(run=run_tables_new)
    parser = commands.add_parser("schema", help="the JSON Schema of table files, for editors")
    parser.add_argument(
        "--text", action="store_true", help="every field in words: what it means, and an example"
    )
    parser.add_argument(
        "word", nargs="?", metavar="WORD", help="with --text: one kind of row, method or field"
    )
    parser.set_defaults(run=run_tables_schema)
    parser = commands.add_parser(
        "diff", help="what differs between two sets, row by row and on the panel of heaps"
    )
    parser.add_argument("before", metavar="A", help="a set, or the word reference")
    parser.add_argument("after", metavar="B", help="a set, or the word reference")
    parser.add_argument("--json", action="store_true", help="the differences as JSON")
    parser.set_defaults(run=run_tables_diff)


def _heap(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("heap", metavar="HEAP", help="a heap or job file: .yaml, .json or .csv")


def _experience(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--experience",
        metavar="FILE",
        help="what own batches taught, as `feedstock learn --save` wrote it",
    )


def _own_containers(parser: argparse.ArgumentParser, what: str) -> None:
    for vessel, size in (("bucket", "12 L"), ("barrow", "80 L")):
        parser.add_argument(
            f"--{vessel}", metavar="SIZE", help=f"{what} in {vessel}s of yours too, of {size} each"
        )


def _tables_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--tables",
        metavar="PATH",
        action="append",
        default=[],
        help="a table file or folder to lay on top (may be repeated)",
    )
    parser.add_argument(
        "--no-plugins",
        action="store_true",
        help="leave out the tables that installed packages bring",
    )


def _common(parser: argparse.ArgumentParser, limits: bool = True) -> None:
    _tables_options(parser)
    if limits:
        parser.add_argument("--limits", metavar="NAME", help="the set of limits to judge by")
    parser.add_argument(
        "--units", choices=("metric", "us"), default="metric", help="units of the text"
    )
    parser.add_argument("--json", action="store_true", help="the result as JSON")
