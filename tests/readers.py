"""The readers of files, files for them to begin with, and what a slip makes of those."""

from __future__ import annotations

import importlib.util
import random
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from builders import ROOT, tables
from feedstock import (
    Appraisal,
    BatchRecord,
    Experience,
    FeedstockError,
    Job,
    appraise,
    blend,
    learn,
    load_tables,
    text,
)
from feedstock.compost.inputs import MixFile

EXAMPLES = ROOT / "examples"
# what people and programs put into a file by mistake, and what somebody would who means harm
SLIPS = (
    b"\t",
    b"  ",
    b": ",
    b"- ",
    b"\n",
    b"\r",
    b"\r\n",
    b"\n\n",
    b"#",
    b",",
    b";",
    b'"',
    b"'",
    b"|",
    b"&a ",
    b"*a",
    b"!!python/object:os.system ",
    b"<<: ",
    b"[",
    b"]",
    b"{",
    b"}",
    b"---\n",
    b"...",
    b"9" * 400,
    b"1e400",
    b"-1",
    b"0",
    b"nan",
    b"inf",
    b"1_000",
    b"0x10",
    b"1,5",
    b"null",
    b"~",
    b" kg",
    b" lb",
    b" gal",
    b" %",
    b" wet",
    b" dry",
    b" to ",
    b" in",
    b"9**9**9 kg",
    b"-5 kg",
    b"\xff",
    b"\x00",
    b"\xef\xbb\xbf",
    b"\xe2\x80\xa8",
    b"\xe2\x80\xae",
    b"\x1b[2J",
    b"\xf0\x9f\x94\xa5",
    b"oak",
    b"treated timber",
    b"fence",
    b"mass",
    b"moisture",
    b"lots",
    b"burn",
    b"schema",
    b"true",
)


def changed(seeds: tuple[bytes, ...], rng: random.Random) -> bytes:
    """One of some files with a piece cut, doubled, moved, overwritten, or a
    slip put in, or another digit.
    """
    data = bytearray(rng.choice(seeds))
    for _ in range(rng.choice((1, 1, 1, 2, 3, 8))):
        at = rng.randrange(len(data) or 1)
        kind = rng.randrange(7)
        if kind == 0 and data:
            data[at] = rng.randrange(256)
        elif kind == 1:
            del data[at : at + rng.randrange(1, 40)]
        elif kind == 2:
            data[at:at] = data[at : at + rng.randrange(1, 200)]
        elif kind == 3:
            piece = data[at : at + rng.randrange(1, 60)]
            to = rng.randrange(len(data) or 1)
            data[to : to + len(piece)] = piece
        elif kind == 4:
            lines = bytes(data).split(b"\n")
            rng.shuffle(lines[: rng.randrange(1, 12)])
            lines.insert(rng.randrange(len(lines)), rng.choice(lines))
            data = bytearray(b"\n".join(lines))
        elif kind == 5:
            digits = [n for n, sign in enumerate(data) if 48 <= sign < 58]
            if digits:
                data[rng.choice(digits)] = rng.randrange(48, 58)
        else:
            data[at:at] = rng.choice(SLIPS)
    return bytes(data)


_SEEN: set[int] = set()


def read_heap(path: Path) -> None:
    """What says the same as a file before it (other blanks, a comment) is appraised once."""
    job = Job.read(path)
    if len(job.lots) <= 8 and hash(job) not in _SEEN:
        _SEEN.add(hash(job))
        result = appraise(job.heap, job.burn, tables(), job.limits)
        assert Appraisal.model_validate_json(result.model_dump_json()) == result
        text.page(result)


def read_batches(path: Path) -> None:
    records = BatchRecord.read(path)
    if len(records) <= 8:
        learn(records, tables())


def read_mix(path: Path) -> None:
    mix = MixFile.read(path)
    blend(mix.char, mix.parts, mix.fraction, by=mix.by, tables=tables())


def read_result(path: Path) -> None:
    text.page(Appraisal.model_validate_json(path.read_bytes()), full=True)


def read_tables(path: Path) -> None:
    load_tables(path, plugins=False)


def read_rows(path: Path) -> None:
    """A register: every row is appraised or told, and each once."""
    from feedstock.columns.stream import appraise_file

    done = appraise_file(path, path.with_name("out.csv"), tables=tables())
    assert done.rows == done.sums.rows + done.refused


@cache
def seeds_of(reader: str) -> tuple[bytes, ...]:
    if reader == "heap.yaml":
        paths = [*EXAMPLES.glob("*.yaml"), *sorted((ROOT / "tests" / "heaps").glob("*.yaml"))]
        return tuple(path.read_bytes() for path in paths if path.stat().st_size < 2_500)
    if reader == "heap.json":
        heaps = [Job.read(path) for path in sorted((ROOT / "tests" / "heaps").glob("one_*.yaml"))]
        return tuple(heap.model_dump_json(indent=1).encode() for heap in heaps)
    if reader in ("heap.csv", "rows.csv"):
        return tuple(path.read_bytes() for path in EXAMPLES.glob("*.csv"))
    if reader == "batches.yaml":
        return ((EXAMPLES / "records" / "batches.yaml").read_bytes(),)
    if reader == "mix.yaml":
        return ((EXAMPLES / "records" / "compost.yaml").read_bytes(),)
    if reader == "experience.json":
        experience = learn(BatchRecord.read(EXAMPLES / "records" / "batches.yaml"), tables())
        return (experience.model_dump_json(indent=1).encode(),)
    if reader == "result.json":
        heap = Job.read(ROOT / "tests" / "heaps" / "one_lot.yaml").heap
        return (appraise(heap, tables=tables()).model_dump_json().encode(),)
    return tuple(
        path.read_bytes() for path in sorted((EXAMPLES / "warm_climate_tables").rglob("*.yaml"))
    )


READERS: dict[str, Callable[[Path], Any]] = {
    "heap.yaml": read_heap,
    "heap.json": read_heap,
    "heap.csv": read_heap,
    "batches.yaml": read_batches,
    "mix.yaml": read_mix,
    "experience.json": Experience.read,
    "result.json": read_result,
    "tables.yaml": read_tables,
}
if importlib.util.find_spec("pyarrow") is not None:
    READERS["rows.csv"] = read_rows
# pydantic's own error is the promise of a result that is read back
REFUSED = {"result.json": ValidationError}


def case(reader: str, data: bytes, folder: Path) -> bool:
    """Whether a reader takes this file; an error of ours is whole, and there is none besides."""
    path = folder / reader
    path.write_bytes(data)
    try:
        READERS[reader](path)
    except FeedstockError as why:
        assert 1 <= len(why.problems) <= 50
        assert all(problem.what for problem in why.problems)
        return False
    except REFUSED.get(reader, FeedstockError):
        return False
    except BaseException as why:
        raise AssertionError(f"{type(why).__name__} of {data!r}") from why
    return True
