"""Files that nobody vouches for: any bytes end in a table or in a TableError, in bounded time and
memory.
"""

from __future__ import annotations

import random
import resource
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders import TABLE_FILES, TABLE_FOLDER
from costs import calls, operations
from feedstock import TableError, load_tables
from feedstock.documents.yaml_reader import read_yaml
from feedstock.errors import InputError
from feedstock.tables.loading.raw import KINDS
from feedstock.tables.loading.reader import read_set
from feedstock.tables.loading.source import TableSource, reference_source
from strategies import examples


@pytest.mark.regression
@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("a: &x 1\nb: *x\n", "anchor"),
        ("a: !!python/object/apply:os.system [ls]\n", "tag"),
        ("a: {<<: {b: 1}}\n", "merge-key"),
        ("a: 1\na: 2\n", "duplicate-key"),
        ("a: 1\n---\nb: 2\n", "documents"),
        ("? [a]\n: 1\n", "key"),
        ("a:\n\t- 1\n", "tab"),
        ("[" * 30 + "]" * 30, "depth"),
        ("a: " + "x" * 30_000, "too-long"),
        ("a: 'b\n", "unclosed-quote"),
        ("# nothing\n", "empty"),
        ("a: \x07\n", "binary"),
        ("!!map {a: 1}\n", "tag"),
        ("? !!binary a\n: 1\n", "tag"),
    ],
)
def test_what_the_strict_form_forbids(text: str, code: str) -> None:
    with pytest.raises(InputError) as why:
        read_yaml(text, "t.yaml")
    assert code in {p.code for p in why.value.problems}, str(why.value)
    assert all(p.file == "t.yaml" for p in why.value.problems)


@pytest.mark.regression
@pytest.mark.parametrize(
    "text",
    [
        "no",
        "on",
        "off",
        "y",
        "1e3",
        "12:30",
        "0o17",
        "010",
        "1_000",
        "2024-01-31",
        "0x1F",
        ".inf",
        "~",
        "null",
        "True",
    ],
)
def test_scalars_are_read_as_they_are_written(text: str) -> None:
    """The words and numbers that YAML 1.1 (10.3 and its type repository) turns into something else
    stay what they are.
    """
    assert read_yaml(f"key: {text}\n{text}: value\n", "t.yaml").data == {"key": text, text: "value"}


@pytest.mark.regression
def test_a_bomb_of_aliases_is_refused_at_once() -> None:
    text = "a0: &a0 [x, x]\n" + "".join(
        f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}, *a{n - 1}, *a{n - 1}]\n" for n in range(1, 30)
    )

    def read() -> None:
        with pytest.raises(InputError):
            read_yaml(text, "t.yaml")

    # thirty lines; unfolded they would be 4 to the power of 29 nodes
    assert operations(read) < 300_000


@pytest.mark.regression
def test_links_do_not_lead_out_of_a_set(tmp_path: Path) -> None:
    (tmp_path / "secret.yaml").write_text("materials: {a: {like: oak}}\n")
    folder = tmp_path / "set"
    folder.mkdir()
    (folder / "tables.yaml").write_text("materials: {b: {like: oak}}\n")
    (folder / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    with pytest.raises(TableError) as why:
        read_set(TableSource.of(folder))
    assert [p.code for p in why.value.problems] == ["outside"]


def outcome(text: bytes, path: Path) -> str:
    path.write_bytes(text)
    try:
        read = read_set(TableSource.of(path))
        load_tables(TableSource.of(path), plugins=False, reference=read.name != "reference")
    except TableError as why:
        assert why.problems
        assert len(why.problems) <= 50
        return "refused"
    return "table"


words = st.sampled_from(
    [
        "materials",
        "oak",
        "oak:",
        "like: ",
        "names: {en: [x]}",
        "value",
        "{",
        "}",
        "[",
        "]",
        ": ",
        "- ",
        "\n",
        "\n  ",
        "\n    ",
        "\t",
        "'",
        '"',
        "&a ",
        "*a",
        "!!str ",
        "<<: ",
        "9**9**9 kg",
        "600 kg/m^3",
        "12 %",
        "22 % wet",
        "set:",
        "schema: 1",
        "amend",
        "contaminants",
        "loosens",
        "# ",
        "---\n",
        "\x00",
        "\ufeff",
        "é",
    ]
)


@pytest.mark.property
@examples(1)
@given(parts=st.lists(words, max_size=40))
def test_any_text_ends_in_a_table_or_a_table_error(
    parts: list[str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    outcome("".join(parts).encode(), tmp_path_factory.getbasetemp() / "words.yaml")


def mutations(seed: int, count: int) -> Iterator[bytes]:
    """Reference files with bytes changed, cut out, doubled or swapped; small pieces of them, so
    that a run is quick.
    """
    rng = random.Random(seed)
    pieces = []
    for path in TABLE_FILES:
        lines = path.read_bytes().split(b"\n")
        for start in range(0, len(lines), 60):
            head = next(
                (
                    line
                    for line in reversed(lines[: start + 1])
                    if line.rstrip().endswith(b":")
                    and not line.startswith(b" ")
                    and line[:-1].decode() in KINDS
                ),
                b"materials:",
            )
            pieces.append(b"\n".join([head, *lines[start : start + 60]]))
    for _ in range(count):
        data = bytearray(rng.choice(pieces))
        for _ in range(rng.choice((1, 1, 2, 5, 20))):
            at = rng.randrange(len(data))
            kind = rng.randrange(4)
            if kind == 0:
                data[at] = rng.randrange(256)
            elif kind == 1:
                del data[at : at + rng.randrange(1, 40)]
            elif kind == 2:
                data[at:at] = data[at : at + rng.randrange(1, 200)]
            else:
                data[at:at] = rng.choice(
                    (
                        b"\t",
                        b"  ",
                        b": ",
                        b"&a ",
                        b"*a ",
                        b"!x ",
                        b"[",
                        b"}",
                        b"9" * 400,
                        b"\xff",
                        b"\n---\n",
                        b"%",
                        b" lb",
                        b"-",
                    )
                )
            if not data:
                data = bytearray(b" ")
        yield bytes(data)


@pytest.mark.property
def test_a_few_hundred_mutated_files(tmp_path: Path) -> None:
    seen = {_read_only(data, tmp_path / "m.yaml") for data in mutations(1, 300)}
    assert seen == {"refused", "read"}


def _read_only(data: bytes, path: Path) -> str:
    """Reading and checking one set by itself, without the reference set under it."""
    path.write_bytes(data)
    try:
        load_tables(TableSource.of(path), plugins=False, reference=False)
    except TableError as why:
        assert 1 <= len(why.problems) <= 50
        return (
            "refused"
            if any(
                p.code not in ("unknown-name", "unknown-source", "unknown-row")
                for p in why.problems
            )
            else "read"
        )
    return "read"


@pytest.mark.deep
@pytest.mark.property
def test_twenty_thousand_mutated_files_in_bounded_time_and_memory(tmp_path: Path) -> None:
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    path, most, slowest = tmp_path / "m.yaml", 0, 0.0
    for data in mutations(20_000, 20_000):
        start = time.process_time()
        count = calls(partial(_read_only, data, path))
        slowest, most = max(slowest, time.process_time() - start), max(most, count)
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    print(
        f"slowest of 20,000 mutated files {slowest:.2f} s, {most:,} calls; largest memory grown by "
        f"{grown / 1024:.0f} MB"
    )
    # a whole piece of sixty lines takes some 30,000
    assert most < 1_000_000
    assert grown < 300 * 1024


@pytest.mark.regression
def test_a_whole_reference_file_with_one_byte_gone_is_told_by_line(tmp_path: Path) -> None:
    text = (TABLE_FOLDER / "materials" / "hardwoods.yaml").read_bytes()
    at = text.index(b"basic_density: {value: 605")
    (tmp_path / "t.yaml").write_bytes(text[: at + 14] + text[at + 15 :])
    with pytest.raises(TableError) as why:
        read_set(TableSource.of(tmp_path / "t.yaml"))
    assert why.value.problems[0].line == text[:at].count(b"\n") + 1
    assert reference_source().root is not None
