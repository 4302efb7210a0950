"""Change files where that reaches code not reached before (coverage-guided), until a reader fails.

    pip install --editable '.[test]' 'atheris>=3.0'
    python tests/fuzz/fuzz.py READER RUNS [FOLDER] [option of libFuzzer ...]

Begins with the files of `readers.seeds_of` and of `corpus/READER` (with `_` for the point in its
name); what reaches further goes into the folder, if one is given. A case ends in a value or in an
error of ours, within a second of processor time and in bounded memory, or the search stops and
writes the file down as `found_READER`. Such a file then belongs into the corpus, as does one that
reaches a line which no other reaches: `tests/property/test_readers.py` goes through it in every
run.
"""

from __future__ import annotations

import os
import random
import resource
import sys
import tempfile
import time
from pathlib import Path

import atheris

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE.parent), str(HERE.parents[1])]
with atheris.instrument_imports(include=["feedstock"]):
    from readers import READERS, SLIPS, case, changed, seeds_of

    # what a first file loads is to be counted too; a set with a fault in it also brings in the
    # files of the reference, which a sound one is laid over without
    with tempfile.TemporaryDirectory() as folder:
        for name in READERS:
            for seed in (*seeds_of(name)[:3], seeds_of(name)[0].replace(b"low:", b"lov:")):
                case(name, seed, Path(folder))

MOST_SECONDS = 1.0
MOST_MEGABYTES = 2_000


class Search:
    """One search: what it calls for every case, and what it found so far."""

    def __init__(self, reader: str, runs: int, folder: Path) -> None:
        self.reader, self.runs, self.folder = reader, runs, folder
        self.count = self.read = 0
        self.slowest = 0.0

    def one(self, data: bytes) -> None:
        begun = time.process_time()
        try:
            self.read += case(self.reader, data, self.folder)
            taken = time.process_time() - begun
            assert taken < MOST_SECONDS, f"{taken:.1f} s"
        except AssertionError:
            Path(f"found_{self.reader}").write_bytes(data)
            raise
        self.count, self.slowest = self.count + 1, max(self.slowest, taken)
        if self.count % 1000 == 0 or self.count >= self.runs:
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
            print(
                f"{self.reader}: {self.count:,} cases, {self.read:,} read, slowest "
                f"{self.slowest:.2f} s, {peak} MB at most",
                flush=True,
            )

    def change(self, data: bytes, most: int, seed: int) -> bytes:
        """Half of the changes are those that a person would make, half of these to a sound file."""
        if seed % 2:
            kept = (data,) if seed % 4 == 1 else seeds_of(self.reader)
            return changed(kept, random.Random(seed))[:most]
        return bytes(atheris.Mutate(data, most))


def main(reader: str, runs: str, *options: str) -> None:
    with tempfile.TemporaryDirectory() as work:
        begin = Path(work, "begin")
        begin.mkdir()
        seeds = seeds_of(reader)
        for number, data in enumerate(seeds):
            begin.joinpath(str(number)).write_bytes(data)
        words = Path(work, "words")
        words.write_text("".join(f'"{_escaped(slip)}"\n' for slip in SLIPS), encoding="ascii")
        search = Search(reader, int(runs), Path(work))
        most = max(map(len, seeds)) + 1_000
        limits = [f"-max_len={most}", f"-rss_limit_mb={MOST_MEGABYTES}", f"-dict={words}"]
        corpus = HERE / "corpus" / reader.replace(".", "_")
        folders = [os.fspath(each) for each in (begin, corpus) if each.is_dir()]
        atheris.Setup(
            [sys.argv[0], f"-runs={runs}", "-mutate_depth=2", *limits, *options, *folders],
            search.one,
            custom_mutator=search.change,
        )
        atheris.Fuzz()


def _escaped(data: bytes) -> str:
    return "".join(f"\\x{each:02x}" for each in data)


if __name__ == "__main__":
    main(*sys.argv[1:])
