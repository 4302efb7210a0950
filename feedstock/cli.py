"""The command line. Exit status: 0 done; 1 done and something is not ready (only with --strict); 2 the input is wrong."""

from __future__ import annotations

import argparse
import dataclasses
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from .errors import FeedstockError, Problem


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return the exit status."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    parser = _parser()
    given = parser.parse_args(arguments)
    try:
        text, status = given.run(given)
        sys.stdout.write(text)
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


def _told(why: FeedstockError) -> str:
    count = len(why.problems)
    head = f"feedstock: {count} thing{'s' if count != 1 else ''} to mend; nothing was done\n"
    return head + "".join(f"  {line}\n" for line in str(why).split("\n"))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="feedstock", description="Appraise scrap plant matter before it is burned to char for garden soil.")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    each = commands.add_parser("appraise", help="what of a heap is fit, why, and how much char it gives")
    each.add_argument("heap", metavar="HEAP", help="a heap or job file: .yaml, .json or .csv")
    _common(each)
    each.add_argument("--why", metavar="FIGURE", help="explain one figure: char_mass, lots[0].moisture, lots.NAME.char_volume")
    each.add_argument("--strict", action="store_true", help="exit with 1 where a lot is to be kept out or checked first")
    each.set_defaults(run=_appraise)
    return parser


def _common(each: argparse.ArgumentParser) -> None:
    each.add_argument("--tables", metavar="PATH", action="append", default=[], help="a table file or folder to lay on top (may be repeated)")
    each.add_argument("--limits", metavar="NAME", help="the set of limits to judge by")
    each.add_argument("--units", choices=("metric", "us"), default="metric", help="units of the text")
    each.add_argument("--json", action="store_true", help="the result as JSON")


def _appraise(given: argparse.Namespace) -> tuple[str, int]:
    from .appraise import appraise
    from .heap import Job
    from .render.screen import appraisal_text, explanation_text
    from .results import Verdict
    from .tables import load_tables

    job = Job.read(given.heap)
    tables = load_tables(*_table_paths(given, job.tables))
    result = appraise(job.heap, job.burn, tables, given.limits or job.limits)
    status = 1 if given.strict and result.verdict >= Verdict.CHECK_FIRST else 0
    if given.why:
        found = result.explain(given.why)
        return (json.dumps(dataclasses.asdict(found), indent=2) + "\n" if given.json else explanation_text(found, given.units)), status
    return (result.model_dump_json(indent=2) + "\n" if given.json else appraisal_text(result, given.units)), status


def _table_paths(given: argparse.Namespace, of_job: Sequence[str]) -> list[str]:
    """The job's own tables, relative to its file, then those of the command line."""
    folder = Path(given.heap).parent
    return [*(str(folder / path) for path in of_job), *given.tables]


def problem_lines(problems: Sequence[Problem]) -> str:
    """One problem a line, as every command prints them."""
    return "".join(f"{problem}\n" for problem in problems)
