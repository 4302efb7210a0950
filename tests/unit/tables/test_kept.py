"""The reference tables as they are kept: equal to what stands in the files in every row, place,
name and word, never those of other files, and without harm where they cannot be kept.
"""

from __future__ import annotations

import json
import subprocess
import sys
import zipfile
from importlib.util import cache_from_source
from pathlib import Path

import pytest

from builders import ROOT, reference_set
from feedstock import Burn, Job, appraise, load_tables
from feedstock.tables.loading import kept
from feedstock.tables.loading.build import build
from feedstock.tables.loading.compile import compiled
from feedstock.tables.loading.kept import FOLDER, NAME, keep, kept_reference, key_of
from feedstock.tables.loading.reader import read_set
from feedstock.tables.loading.source import reference_source
from feedstock.tables.names.compiled import _compiled
from feedstock.tables.store import Store
from feedstock.tables.tables import Tables

KEY = "of this test"


@pytest.fixture(scope="module")
def read() -> Tables:
    """The reference tables from their files."""
    return build([read_set(reference_source())])


@pytest.fixture(scope="module")
def content(read: Tables) -> bytes:
    return compiled(read, reference_set(), KEY)


@pytest.fixture(scope="module")
def held(content: bytes) -> Tables:
    """The same from what is kept."""
    store = Store.read(content, KEY)
    assert store is not None
    return kept._tables(store)


@pytest.mark.property
def test_rows_and_places_are_equal(read: Tables, held: Tables) -> None:
    assert held == read and held.sets == read.sets and held.loosened == read.loosened
    for kind, rows in read.rows.items():
        assert list(held.rows[kind]) == list(rows)
        assert dict(held.rows[kind]) == dict(rows)
        for row_id, places in read.places[kind].items():
            assert list(held.places[kind][row_id].items()) == list(places.items())


@pytest.mark.property
def test_names_and_words_are_equal(read: Tables, held: Tables) -> None:
    for kind in read.rows:
        assert held.index(kind).parts() == read.index(kind).parts()
    assert held.ready is not None
    words, kept_words = _compiled(read), held.ready.language()
    for name in ("known", "strong", "hedges", "negations", "places", "homonyms", "clearing"):
        assert getattr(kept_words, name) == getattr(words, name)
    for name in ("plants", "forms", "states", "families", "classes"):
        assert list(getattr(kept_words, name).items()) == list(getattr(words, name).items())
    for name in ("scanned", "composed", "asides"):
        trie, kept_trie = getattr(words, name), getattr(kept_words, name)
        for word in trie.first_words:
            assert kept_trie.longest([word]) == trie.longest([word])
        assert kept_trie.first_words == trie.first_words


@pytest.mark.property
@pytest.mark.parametrize("name", ["shed_clearout.yaml", "storm_stand.yaml"])
def test_results_are_equal_to_the_byte(name: str, read: Tables, held: Tables) -> None:
    job = Job.read(ROOT / "examples" / name)
    burn = job.burn or Burn(burner="cone pit", width="1 m", depth="0.5 m")
    told = [appraise(job, burn, tables) for tables in (read, held)]
    assert told[0].model_dump_json() == told[1].model_dump_json()
    why = [
        str(each.explain("char_mass", tables=tables).full())
        for each, tables in zip(told, (read, held), strict=True)
    ]
    assert why[0] == why[1]


@pytest.mark.property
def test_what_is_kept_is_of_these_files_alone(tmp_path: Path, content: bytes) -> None:
    """A byte, a name or a file more or less is another key; another key is not read."""
    (tmp_path / "a").mkdir()
    for name, text in (("a/x.yaml", "set: {}\n"), ("y.yml", "materials: {}\n")):
        (tmp_path / name).write_text(text)
    keys = [key_of(tmp_path, False)]
    (tmp_path / "y.yml").write_text("materials: []\n")
    keys.append(key_of(tmp_path, False))
    (tmp_path / "y.yml").rename(tmp_path / "z.yml")
    keys.append(key_of(tmp_path, False))
    (tmp_path / "z.yml").unlink()
    keys.append(key_of(tmp_path, False))
    keys.append(key_of(tmp_path, True))
    assert len(set(keys)) == len(keys)
    (tmp_path / "notes.txt").write_text("no table")
    (tmp_path / ".hidden").mkdir()
    (tmp_path / ".hidden" / "x.yaml").write_text("none either")
    assert key_of(tmp_path, True) == keys[-1]
    assert Store.read(content, keys[0]) is None
    assert Store.read(content[:-1], KEY) is None
    assert Store.read(b"", KEY) is None
    assert Store.read(b"[]\n", KEY) is None


@pytest.fixture
def checkout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A checkout of the test's own, with one table file."""
    (tmp_path / "tables").mkdir()
    (tmp_path / "tables" / "x.yaml").write_text("materials: {}\n")
    monkeypatch.setattr(kept, "reference_folder", lambda: (tmp_path / "tables", True))
    return tmp_path


@pytest.mark.property
def test_a_changed_file_is_read_anew(checkout: Path, read: Tables) -> None:
    assert kept_reference() is None
    keep(compiled(read, reference_set(), key_of(checkout / "tables", True)))
    assert kept_reference() == read
    (checkout / "tables" / "x.yaml").write_text("materials: {} \n")
    assert kept_reference() is None


@pytest.mark.property
def test_where_nothing_can_be_kept_nothing_is(checkout: Path, content: bytes) -> None:
    """A file stands where the folder would: as on a read-only file system, writing fails."""
    (checkout / FOLDER).write_text("in the way")
    keep(content)
    assert (checkout / FOLDER).read_text() == "in the way"
    assert kept_reference() is None
    (checkout / FOLDER).unlink()
    (checkout / FOLDER / NAME).mkdir(parents=True)
    keep(content)
    assert [path.name for path in (checkout / FOLDER).iterdir()] == [NAME]
    assert kept_reference() is None


_APPRAISE = """
import json, sys
from feedstock import Heap, Lot, appraise
heap = Heap(lots=[Lot(material="oak", mass="12 kg", moisture="22 % wet", origin="own trees")])
result = appraise(heap)
print(json.dumps([result.model_dump_json(), "yaml" in sys.modules,
                  "feedstock.tables.loading.build" in sys.modules]))
"""


def run(path: Path) -> list[object]:
    ran = subprocess.run(
        [sys.executable, "-c", _APPRAISE],
        capture_output=True,
        text=True,
        check=True,
        cwd="/",
        env={"PYTHONPATH": str(path), "PATH": ""},
    )
    found: list[object] = json.loads(ran.stdout)
    return found


@pytest.mark.property
@pytest.mark.parametrize("with_kept", [True, False])
def test_from_a_zip_file(tmp_path: Path, read: Tables, with_kept: bool) -> None:
    """As a wheel lays it out; with what is kept no table file is parsed. What Python compiled of it
    before lies beside it, for a zip file keeps nothing.
    """
    packed = tmp_path / "packed.zip"
    folder = ROOT / "tables"
    with zipfile.ZipFile(packed, "w") as archive:
        for path in sorted((ROOT / "feedstock").rglob("*.py")):
            archive.write(path, path.relative_to(ROOT).as_posix())
            code = Path(cache_from_source(path))
            if code.exists():
                archive.write(code, f"{path.relative_to(ROOT).as_posix()}c")
        for path in sorted(folder.rglob("*.yaml")):
            archive.write(path, f"feedstock/_tables/{path.relative_to(folder).as_posix()}")
        if with_kept:
            inside = zipfile.Path(archive, "feedstock/_tables/")
            assert inside.is_dir()
            archive.writestr(
                f"feedstock/_tables/{FOLDER}/{NAME}",
                compiled(read, reference_set(), key_of(folder, False)),
            )
    result, yaml, layers = run(packed)
    assert (yaml, layers) == (not with_kept, not with_kept)
    load_tables(plugins=False)
    assert result == run(ROOT)[0]


@pytest.mark.property
def test_a_checkout_reads_what_it_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    load_tables.refresh()
    assert kept_reference() is not None or load_tables(plugins=False)
    if kept_reference() is None:
        pytest.skip("nothing can be kept in this checkout")
    assert run(ROOT)[1:] == [False, False]
