"""The record of a burn from its heap and what was measured, and a file of records that grows by
one.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from ..documents.aside import aside_of
from ..documents.encoding import read_text
from ..documents.yaml_reader import read_yaml
from ..errors import InputError, Problem, nearest_names, shown
from ..model.inputs.heap import Job, lot_names
from ..model.inputs.lot import Lot
from .records import BatchRecord


def lots_burnt(job: Job, used: Sequence[str], ready: Sequence[str]) -> tuple[Lot, ...]:
    """The lots that went into the fire: those that are named, else those that were ready.

    Raises InputError for a name that no lot has, and where nothing was ready.
    """
    lots = dict(zip((name.casefold() for name in lot_names(job.heap)), job.lots, strict=True))
    chosen, problems = [], []
    for name in used or ready:
        lot = lots.get(name.casefold())
        if lot is None:
            problems.append(
                Problem(
                    "unknown-lot",
                    f"there is no lot '{shown(name)}' in this heap",
                    f"Lots: {', '.join(lot_names(job.heap)[:20])}.",
                    "--used",
                    nearest=nearest_names(name, lot_names(job.heap)),
                )
            )
        elif lot not in chosen:
            chosen.append(lot)
    if not chosen and not problems:
        problems.append(
            Problem(
                "no-lots",
                "no lot of this heap was ready, so it is not known what was burnt",
                "Name the lots that went into the fire: --used NAME, once for each.",
                "--used",
            )
        )
    if problems:
        raise InputError(problems)
    return tuple(chosen)


def add_record(record: BatchRecord, path: str | os.PathLike[str]) -> int:
    """Put a record behind those of a YAML file, or begin the file; how many it holds then.

    What stands there stays as it is, comments too. The new file is written aside, read, compared
    and only then put in the place of the old one. Raises InputError where the file is no record of
    batches, holds this very burn, is not written as a list that can grow, or cannot be written.
    """
    target = Path(os.path.realpath(path))
    if target.suffix.lower() not in (".yaml", ".yml"):
        raise _refused(
            path, "records are added to YAML files alone", "Give a name that ends in .yaml."
        )
    exists = target.exists()
    old = BatchRecord.read(path) if exists else ()
    before = read_text(path) if exists else ""
    _check_new(record, old, path)
    text = _grown(before, os.fspath(path), record) if exists else _begun(record)
    aside = aside_of(target, target.suffix)
    try:
        aside.write_text(text, encoding="utf-8")
        if exists:
            shutil.copymode(target, aside)
        _check(aside, path, old, record)
        if target.exists() != exists or (exists and read_text(path) != before):
            what = "another program wrote this file in the meantime"
            raise _refused(path, what, "Nothing was written; record it again.")
        aside.replace(target)
    except OSError as why:
        raise _refused(
            path,
            f"this cannot be written ({why.strerror or why})",
            "Give a file in a folder that may be written.",
        ) from None
    finally:
        aside.unlink(missing_ok=True)
    return len(old) + 1


def _check_new(
    record: BatchRecord, old: Sequence[BatchRecord], path: str | os.PathLike[str]
) -> None:
    """That the burn does not stand there: told twice it would count twice in what is learnt."""
    for number, there in enumerate(old, 1):
        if there == _of_person(record, there.person):
            raise InputError(
                [
                    Problem(
                        "same-burn",
                        f"this burn stands there already, as batch {number}: the same day, name, "
                        "lots and answers",
                        "Nothing is to be done if it is the same burn; if it was another one, "
                        "give its own --name or --date.",
                        file=os.fspath(path),
                    )
                ]
            )


def _of_person(record: BatchRecord, person: str | None) -> BatchRecord:
    """The record as of the person that stands at the top of a file, where it names none itself."""
    return record.model_copy(update={"person": person}) if record.person is None else record


def _check(
    aside: Path, path: str | os.PathLike[str], old: tuple[BatchRecord, ...], record: BatchRecord
) -> None:
    """That what was written reads as the old records and the new one; the person that stands at the
    top of a file is that of every batch.
    """
    try:
        records: tuple[BatchRecord, ...] = BatchRecord.read(aside)
    except InputError:
        records = ()
    if records:
        record = _of_person(record, records[-1].person)
    if records != (*old, record):
        raise _refused(
            path,
            "a batch cannot be added at the end of this file as it is written",
            "Put its batches one under the other, each after a dash, at the end of the file; or "
            "give another file.",
        )


def _begun(record: BatchRecord) -> str:
    return f"# Burns as they came out, for `feedstock learn`.\nbatches:\n{_entry(record, 2)}"


def _grown(text: str, name: str, record: BatchRecord) -> str:
    """The text with the record behind its last batch, its dash under the other dashes."""
    places = read_yaml(text, name).places
    entries = [
        place
        for path, place in places.items()
        if (len(path) == 2 and path[0] == "batches") or (len(path) == 1 and path[0] == 0)
    ]
    line, column = max(entries, default=(1, 1))
    before = text.splitlines()[line - 1][: column - 1]
    indent = len(before) - len(before.lstrip(" "))
    end = "" if text.endswith("\n") else "\n"
    return f"{text}{end}{_entry(record, indent)}"


def _entry(record: BatchRecord, indent: int) -> str:
    """The record as an entry of a list, its dash `indent` blanks from the margin."""
    import yaml

    # what nobody gave is left out: a default written down would read like somebody's word
    data = _filled(record.model_dump(mode="json", exclude_unset=True))
    lines = yaml.safe_dump([data], allow_unicode=True, sort_keys=False, width=100).splitlines()
    return "".join(f"{' ' * indent}{line}\n" for line in lines)


def _filled(value: Any) -> Any:
    """Plain data without empty lists."""
    if isinstance(value, dict):
        return {key: _filled(item) for key, item in value.items() if item != []}
    return [_filled(item) for item in value] if isinstance(value, list) else value


def _refused(path: str | os.PathLike[str], what: str, remedy: str) -> InputError:
    return InputError([Problem("unwritable", what, remedy, file=os.fspath(path))])
