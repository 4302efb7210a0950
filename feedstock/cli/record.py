"""`feedstock record`: five answers about a burn, asked for or given as options."""

from __future__ import annotations

import argparse
import datetime
import re
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from ..errors import InputError, Problem, shown
from ..quantities.format import Units
from ..quantities.frozen import frozen

if TYPE_CHECKING:
    from ..experience.records import BatchRecord
    from ..model.inputs.heap import Job


@frozen
class Question:
    """What is asked: its option, the field of the record, the unit of a bare number, the words, and
    whether it may be left open; at a terminal the words begin with the unit of the reader.
    """

    option: str
    field: str
    unit: str
    words: str
    open: bool = False

    def of_units(self, units: Units) -> Question:
        """The same asked in the units of the reader."""
        name, unit = _ASKED_IN.get((units, self.unit), (None, self.unit))
        rest = self.words.partition(" ")[2]
        return self if name is None else replace(self, unit=unit, words=f"{name} {rest}")


MINUTES = Question("minutes", "minutes", "min", "Minutes from lighting to quench (or: 1 h 10 min)")
LITRES = Question(
    "litres",
    "char.volume",
    "L",
    "Litres of char, heaped, half-burnt pieces sorted out (or: 16 US gal)",
)
KILOGRAMS = Question(
    "kilograms", "char.mass", "kg", "Kilograms of that char; leave empty if not weighed", True
)
MOISTURE = Question("moisture", "char.moisture", "", "Its moisture: dry, or for instance 60 % wet")
BRANDS = Question("brands", "brands", "kg", "Kilograms of half-burnt pieces (brands); 0 if none")
WATER = Question("water", "water", "L", "Litres of water used; 0 if none")

_ASKED_IN = {("us", "L"): ("US gallons", "US gal"), ("us", "kg"): ("Pounds", "lb")}

QUESTIONS = (MINUTES, LITRES, KILOGRAMS, MOISTURE, BRANDS, WATER)

_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def add_command(commands: Any, common: Callable[..., None]) -> None:
    """The command and its options."""
    parser = commands.add_parser(
        "record", help="write down how a burn came out, for `feedstock learn`"
    )
    parser.add_argument("heap", metavar="FILE", help="the heap or job file that was burnt")
    for question in QUESTIONS:
        unit = f" A bare number is in {question.unit}." if question.unit else ""
        parser.add_argument(
            f"--{question.option}",
            metavar="AMOUNT",
            help=f"{question.words}.{unit}".replace("%", "%%"),
        )
    parser.add_argument(
        "--used",
        metavar="LOT",
        action="append",
        default=[],
        help="a lot that went into the fire (may be repeated); without it those that were ready",
    )
    parser.add_argument("--date", metavar="DAY", help="the day of the burn, 2026-03-14 (today)")
    parser.add_argument("--name", help="what the burn is called (the heap's name)")
    parser.add_argument(
        "--save",
        metavar="RECORDS",
        help="the record of batches to add it to (FILE with _batches.yaml for its ending)",
    )
    common(parser, limits=False)
    parser.set_defaults(run=record)


def record(args: argparse.Namespace) -> tuple[str, int]:
    """Ask for what is missing, write the record, and say where."""
    from ..experience.recording import add_record
    from ..model.inputs.heap import Job

    day = _day(args.date)
    job = Job.read(args.heap)
    if job.burn is None:
        raise _problem(
            "no-burn",
            "the heap does not say in what it was burnt",
            "Write burn: with the burner and its measures into the heap file.",
            "burn",
        )
    lots = _lots(job, args)
    answers = _answers(args)
    batch = _made(args.name or job.name, job, lots, answers, day)
    path = args.save or str(Path(args.heap).with_name(f"{Path(args.heap).stem}_batches.yaml"))
    count = add_record(batch, path)
    if args.json:
        return batch.model_dump_json(indent=2) + "\n", 0
    names = ", ".join(lot.name or lot.material for lot in batch.lots)
    batches = "1 batch" if count == 1 else f"{count} batches"
    lines = [
        f"Written to {path}, which now holds {batches}.",
        f"Counted as burnt, whole: {names}. If less of it was, correct the amounts in the record.",
        *_notes(batch),
        f"Next: feedstock learn {path}",
    ]
    return "\n".join(lines) + "\n", 0


def _notes(batch: BatchRecord) -> list[str]:
    """How a doubtful word was read: a bare gallon is the US one."""
    values = (batch.minutes, batch.char.volume, batch.char.mass, batch.brands, batch.water)
    return [f"Read: {value.text}: {value.note}" for value in values if value and value.note]


def _lots(job: Job, args: argparse.Namespace) -> Any:
    from ..experience.recording import lots_burnt
    from ..model.findings import Verdict
    from ..pipeline import appraise
    from ..tables.loading.load import load_tables

    folder = Path(args.heap).parent
    paths = (*(str(folder / path) for path in job.tables), *args.tables)
    tables = load_tables(*paths, plugins=not args.no_plugins)
    lots = appraise(job.heap, job.burn, tables, job.limits).lots
    ready = [lot.name for lot in lots if lot.verdict is Verdict.READY]
    return lots_burnt(job, args.used, ready)


def _answers(args: argparse.Namespace) -> dict[str, str]:
    """Every answer by its field; what no option gives is asked at a terminal, and without one told
    at once.
    """
    ask = sys.stdin is not None and sys.stdin.isatty()
    wanted = [q for q in QUESTIONS if q is not MOISTURE]
    missing = [f"--{q.option}" for q in wanted if getattr(args, q.option) is None and not q.open]
    if missing and not ask:
        raise _problem(
            "missing-option",
            f"{', '.join(missing)} {'is' if len(missing) == 1 else 'are'} not given, and there is "
            "no terminal to ask at",
            "Give every one of them, for instance --minutes 70 --litres 60 --brands 2 --water 80.",
        )
    answers: dict[str, str] = {}
    for question in QUESTIONS:
        if question is MOISTURE and KILOGRAMS.field not in answers:
            if args.moisture is not None:
                raise _problem(
                    "missing-field",
                    "a moisture of the char is given, but no mass",
                    "Give --kilograms as well, or leave --moisture out.",
                    "--moisture",
                )
            continue
        text = getattr(args, question.option)
        if text is not None:
            answers[question.field] = _checked(question, text)
        elif ask:
            asked = _asked(question.of_units(args.units))
            if asked:
                answers[question.field] = asked
        elif question is MOISTURE:
            raise _problem(
                "wet-mass",
                "a mass of char is given without its moisture: quenched char holds one to four "
                "times its own mass of water",
                "Give --moisture dry, or --moisture '60 % wet'; or leave --kilograms out.",
                "--kilograms",
            )
    return answers


def _asked(question: Question) -> str:
    """The answer of a person at the terminal; asked again until it can be read."""
    while True:
        sys.stderr.write(f"{question.words}: ")
        sys.stderr.flush()
        line = sys.stdin.readline()
        if not line:
            sys.stderr.write("\n")
            raise _problem("no-answer", "the questions were not answered to the end",
                           "Nothing was written; begin again.")  # fmt: skip
        text = line.strip()
        if not text and question.open:
            return ""
        try:
            return _checked(question, text)
        except InputError as why:
            sys.stderr.write(f"  {why.problems[0]}\n")


def _checked(question: Question, text: str) -> str:
    """An answer in the words of a record: a bare number in the unit of the question."""
    from pydantic import ValidationError

    from ..documents.problems import problems_of
    from ..experience.records import BatchRecord

    text = text.strip()
    if not text:
        raise _problem("empty", "there is no answer", _example(question), f"--{question.option}")
    if question.field == MOISTURE.field:
        text = "0 % wet" if text.casefold() == "dry" else text
    elif _NUMBER.fullmatch(text):
        text = f"{text} {question.unit}"
    # the record itself judges an answer, with the least that a record needs around it
    beside = _BESIDE.get(question.field, {})
    try:
        BatchRecord.model_validate(_nested(_LEAST, {question.field: text, **beside}))
    except ValidationError as why:
        problem = problems_of(why, BatchRecord)[0]
        raise _problem(
            problem.code, problem.what, problem.expected, f"--{question.option}"
        ) from None
    return text


def _example(question: Question) -> str:
    if question.field == MOISTURE.field:
        return "Write dry, or a moisture such as 60 % wet."
    unit = _NAMES[question.unit]
    return f"Write a number in {unit}, or one with its own unit."


_NAMES = {
    "min": "minutes",
    "L": "litres",
    "kg": "kilograms",
    "US gal": "US gallons",
    "lb": "pounds",
}
_LEAST: dict[str, Any] = {
    "lots": [{"material": "wood", "mass": "1 kg"}],
    "burn": {"burner": "pit"},
    "char": {"volume": "1 L"},
}
_BESIDE = {"char.mass": {"char.moisture": "50 % wet"}, "char.moisture": {"char.mass": "1 kg"}}


def _nested(base: Mapping[str, Any], answers: Mapping[str, str]) -> dict[str, Any]:
    out: dict[str, Any] = {**base, "char": dict(base.get("char", {}))}
    for field, text in answers.items():
        outer, _, inner = field.rpartition(".")
        (out[outer] if outer else out)[inner] = text
    return out


def _day(text: str | None) -> str:
    """The day of the burn. A day after today is a slip of the pen: nobody knows yet how it came
    out.
    """
    today = datetime.date.today()
    if text is None:
        return today.isoformat()
    try:
        day = datetime.date.fromisoformat(text.strip())
    except ValueError:
        what, rest = f"'{shown(text)}' is not a date", ""
        code = "not-a-date"
    else:
        if day <= today:
            return day.isoformat()
        what, rest = f"the day {day.isoformat()} has not come yet", ", or leave it out for today"
        code = "out-of-range"
    expected = f"Write the day of the burn as year-month-day, at most {today.isoformat()}{rest}."
    raise _problem(code, what, expected, "--date")


def _made(
    name: str | None, job: Job, lots: Any, answers: Mapping[str, str], date: str
) -> BatchRecord:
    from pydantic import ValidationError

    from ..documents.problems import problems_of
    from ..experience.records import BatchRecord

    base = {"date": date, "lots": lots, "burn": job.burn}
    named = {"name": name} if name else {}
    try:
        return BatchRecord.model_validate(_nested({**named, **base}, answers))
    except ValidationError as why:
        raise InputError(problems_of(why, BatchRecord)) from None


def _problem(code: str, what: str, expected: str, field: str = "") -> InputError:
    return InputError([Problem(code, what, expected, field)])
