"""At home in other programs: copies, jobs, rows of tables, drop-downs, results of a newer version,
and tables that no host can change.
"""

from __future__ import annotations

import copy
import csv
import json
import math
import pickle
import re
from dataclasses import asdict
from typing import Any, cast

import pytest
from pydantic import ValidationError

from builders import EXAMPLES, ROOT, RunCli, heap, lot, tables
from feedstock import (
    Appraisal,
    Burn,
    FeedstockError,
    Heap,
    InputError,
    Job,
    Lot,
    Problem,
    UnknownName,
    appraise,
    appraise_lot,
    gather,
    load_tables,
)

pytestmark = pytest.mark.property

README = ROOT / "README.md"


# --- copies ---------------------------------------------------------------------------------------


def test_a_changed_copy_is_read_like_what_a_person_wrote() -> None:
    heavier = lot(mass="10 kg").model_copy(update={"mass": "20 kg"})
    assert heavier == lot(mass="20 kg")
    assert appraise_lot(heavier, tables=tables()).dry_mass.mid_value > 10
    other = heap().model_copy(update={"lots": [{"material": "oak", "mass": "3 kg"}]})
    assert appraise(other, tables=tables()).lots[0].name == "oak"
    wider = Burn(burner="cone pit", width="1 m").model_copy(update={"width": "1.5 m"})
    assert wider == Burn(burner="cone pit", width="1.5 m")


def test_a_wrong_copy_is_refused_at_once() -> None:
    with pytest.raises(ValidationError, match="no unit"):
        lot().model_copy(update={"mass": "20"})
    with pytest.raises(ValidationError, match="colour"):
        lot().model_copy(update={"colour": "red"})


def test_a_copy_keeps_its_place_in_the_file() -> None:
    read = Heap.read(EXAMPLES / "orchard_prunings.csv")
    assert read.model_copy() == read
    assert read.model_copy(deep=True) == read
    assert appraise(read.model_copy(), tables=tables()) == appraise(read, tables=tables())


# --- errors ---------------------------------------------------------------------------------------


def test_a_wrong_lot_is_one_error() -> None:
    with pytest.raises(ValidationError) as caught:
        Heap(lots=[{"material": "oak"}])
    assert [error["loc"] for error in caught.value.errors()] == [("lots", 0)]
    with pytest.raises(ValidationError) as caught:
        Job.model_validate({"lots": [{"material": "oak"}]})
    assert len(caught.value.errors()) == 1


@pytest.mark.parametrize("model", [Heap, Job])
def test_no_lots_at_all_are_told(model: Any) -> None:
    with pytest.raises(ValidationError) as caught:
        model(lots=[])
    assert [error["type"] for error in caught.value.errors()] == ["too_short"]


@pytest.mark.parametrize(
    ("field", "path"),
    [
        ("lots[0].mass", ("lots", 0, "mass")),
        ("lots[12].signs[3]", ("lots", 12, "signs", 3)),
        ("burn", ("burn",)),
        ("", ()),
        ("--minutes", ("--minutes",)),
    ],
)
def test_the_path_of_a_problem(field: str, path: tuple[str | int, ...]) -> None:
    assert Problem("code", "what", "remedy", field).path == path


def test_the_problems_of_an_unknown_name_are_plain_data() -> None:
    """What an error handler of a web framework sends back."""
    with pytest.raises(UnknownName) as caught:
        appraise(heap(lot("oka")), tables=tables())
    told = [asdict(problem) for problem in caught.value.problems]
    assert json.loads(json.dumps(told))[0]["field"] == "lots[0].material"
    assert caught.value.problems[0].path == ("lots", 0, "material")


def test_the_error_handler_of_readme_answers_every_kind_of_error() -> None:
    """With stand-ins for the web framework: its decorator, and what makes JSON of a dict."""
    code = next(
        block
        for block in re.findall(r"```text\n(.*?)```", README.read_text("utf-8"), re.DOTALL)
        if "exception_handler" in block
    )
    handlers: dict[Any, Any] = {}

    class App:
        def exception_handler(self, kind: Any) -> Any:
            return lambda handler: handlers.setdefault(kind, handler)

    names = {
        "app": App(),
        "FeedstockError": FeedstockError,
        "asdict": asdict,
        "JSONResponse": lambda body, status: (json.dumps(body), status),
    }
    exec(compile(code, "README.md", "exec"), names)
    answered = 0
    for wrong in (
        lambda: appraise(heap(lot("oka")), tables=tables()),
        lambda: appraise(heap(), Burn(burner="oven"), tables()),
        lambda: Heap.from_rows([{"material": "oak", "mass": "9"}]),
        lambda: load_tables({"set": {}}, plugins=False),
    ):
        try:
            wrong()
        except FeedstockError as why:
            body, status = handlers[FeedstockError](None, why)
            assert status == 422
            assert json.loads(body)["problems"][0]["what"]
            answered += 1
    assert answered == 4


# --- jobs -----------------------------------------------------------------------------------------


def test_a_job_is_appraised_as_it_stands() -> None:
    job = Job.read(EXAMPLES / "shed_clearout.yaml")
    assert appraise(job, tables=tables()) == appraise(job.heap, job.burn, tables(), job.limits)


def test_what_is_given_stands_before_the_jobs() -> None:
    job = Job(lots=(lot(),), burn=Burn(burner="kettle"), limits="EBC-Agro")
    pit = Burn(burner="pit")
    assert appraise(job, pit, tables()) == appraise(job.heap, pit, tables(), "EBC-Agro")


def test_the_table_files_of_a_job_are_not_read() -> None:
    """A request must not choose files."""
    job = Job(lots=(lot(),), tables=("/etc/passwd",))
    assert appraise(job, tables=tables()) == appraise(Heap(lots=[lot()]), None, tables())


def test_a_job_is_gathered_from() -> None:
    job = Job(lots=(lot(),), burn=Burn(burner="kettle"))
    assert gather("10 L", job, tables=tables()) == gather("10 L", job.heap, job.burn, tables())


# --- rows of other programs -----------------------------------------------------------------------


def orchard() -> list[dict[str, str]]:
    with (EXAMPLES / "orchard_prunings.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_rows_read_as_the_same_file() -> None:
    assert Heap.from_rows(orchard()) == Heap.read(EXAMPLES / "orchard_prunings.csv")


@pytest.mark.parametrize("nothing", [None, float("nan"), "", "  "])
def test_nothing_is_silence(nothing: Any) -> None:
    row = {"material": "oak", "mass": "9 kg", "thickness": nothing, "decay": nothing,
           "signs": nothing, "moisture.reading": nothing, "moisture": "14 % wet"}  # fmt: skip
    wanted = Heap(lots=[Lot(material="oak", mass="9 kg", moisture="14 % wet")])
    assert Heap.from_rows([row]) == wanted


def test_numbers_come_as_a_data_frame_has_them() -> None:
    """A column with a gap turns its whole numbers into floats."""
    row = {"material": "oak", "pieces.count": 12.0, "pieces.length": "1 m", "decay": 2.0,
           "pieces.diameter": "60 mm", "year": 2020.0,
           "lying": True, "signs": ["bark on"]}  # fmt: skip
    found = Heap.from_rows([row]).lots[0]
    assert found.pieces is not None
    assert (found.pieces.count, found.decay, found.year) == (12, 2, 2020)
    assert found.signs == ("bark on",)


def test_what_is_wrong_in_rows_is_told_by_row_and_column() -> None:
    rows: list[dict[str, Any]] = [
        {"material": "oak", "mass": 9.5},
        {"material": "oak", "mass": "9 kg", "wieght": "3 kg"},
        {"material": "oak", "mass": "9 kg", "moisture": "14 % wet", "moisture.by": "pin"},
    ]
    with pytest.raises(InputError) as caught:
        Heap.from_rows(rows)
    told = [str(problem) for problem in caught.value.problems]
    assert any("lots[0].mass" in text and "no unit" in text for text in told)
    assert any("lots[1].wieght" in text for text in told)
    assert any("lots[2].moisture" in text and "two columns" in text for text in told)
    with pytest.raises(InputError, match="no rows"):
        Heap.from_rows([])
    with pytest.raises(InputError, match="is not a row"):
        Heap.from_rows(["oak"])  # type: ignore[list-item]


def test_rows_of_a_result_are_flat_and_plain() -> None:
    job = Job.read(EXAMPLES / "shed_clearout.yaml")
    result = appraise(job, tables=tables())
    rows = result.to_rows()
    assert [row["name"] for row in rows] == [item.name for item in result.lots]
    assert len({tuple(row) for row in rows}) == 1  # every row has the same columns
    for row, item in zip(rows, result.lots, strict=True):
        assert all(value is None or isinstance(value, (str, float, bool)) for value in row.values())
        assert row["verdict"] == str(item.verdict)
        assert row["dry_mass.mid"] == item.dry_mass.mid_value
        assert row["dry_mass.unit"] == "kg"
        assert (row["char_mass.mid"] is None) is (item.char_mass is None)
        assert row["findings"] == " | ".join(finding.code for finding in item.findings)
    json.dumps(rows)


def test_rows_in_us_units() -> None:
    result = appraise(heap(), tables=tables())
    metric, us = result.to_rows()[0], result.to_rows("us")[0]
    assert us["dry_mass.unit"] == "lb"
    assert us["dry_mass.mid"] == pytest.approx(metric["dry_mass.mid"] / 0.45359237)
    assert us["moisture.mid"] == metric["moisture.mid"]


# --- names for a drop-down ------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["materials", "origins", "signs", "burners", "limits"])
@pytest.mark.parametrize("language", ["en", "de", "xx"])
def test_every_name_of_a_drop_down_finds_its_row(kind: str, language: str) -> None:
    names = tables().names(kind, language)
    assert len(names) == len(set(names)) == len(tables().rows[kind])
    assert {tables().find(kind, name) for name in names} == set(tables().rows[kind])
    assert list(names) == sorted(names, key=str.casefold)


def test_names_in_the_readers_language() -> None:
    assert "Eiche" in tables().names("materials", "de")
    assert "oak" in tables().names("materials")
    with pytest.raises(UnknownName, match="kind"):
        tables().names("colours")


# --- nobody changes the tables of all ------------------------------------------------------------


def test_tables_cannot_be_changed() -> None:
    loaded = load_tables(plugins=False)
    hardwood, rows = loaded.material("reference:hardwood"), cast(Any, loaded.rows)
    for change in (
        lambda: rows["materials"].pop("reference:oak"),
        lambda: rows.update({}),
        lambda: rows["materials"].__setitem__("x", hardwood),
        lambda: hardwood.moisture.pop("green"),
        lambda: hardwood.names.clear(),
        lambda: hardwood.elements.update(hardwood.elements),
        lambda: cast(Any, loaded.places)["materials"].clear(),
        lambda: loaded.defaults[1].use.setdefault("x", "y"),
    ):
        with pytest.raises(TypeError, match="cannot be changed"):
            change()
    with pytest.raises(AttributeError, match="cannot be changed"):
        setattr(hardwood, "ash", None)  # noqa: B010
    assert "reference:oak" in loaded.rows["materials"]


def test_tables_still_pickle_and_copy() -> None:
    loaded = load_tables(plugins=False)
    for twin in (pickle.loads(pickle.dumps(loaded)), copy.deepcopy(loaded)):
        assert twin == loaded
        with pytest.raises(TypeError, match="cannot be changed"):
            cast(Any, twin.rows)["materials"].clear()
    assert dict(loaded.rows["materials"]).pop("reference:oak")  # a copy of one's own may change


# --- results of a newer version ------------------------------------------------------------------


NEWER = {
    "a result": (),
    "a lot": ("lots", 0),
    "an estimate": ("dry_mass",),
    "an estimate of a lot": ("lots", 0, "moisture"),
    "a finding": ("findings", 0),
    "a lot of the heap": ("inputs", "heap", "lots", 0),
    "the heap": ("inputs", "heap"),
    "pieces": ("inputs", "heap", "lots", 2, "pieces"),
    "a moisture": ("inputs", "heap", "lots", 0, "moisture"),
    "the burn": ("inputs", "burn"),
    "the plan": ("burn",),
}


@pytest.mark.parametrize("path", NEWER.values(), ids=NEWER)
def test_an_older_reader_reads_a_newer_result(path: tuple[str | int, ...]) -> None:
    result = appraise(Job.read(EXAMPLES / "shed_clearout.yaml"), tables=tables())
    data = json.loads(result.model_dump_json())
    part = data
    for step in path:
        part = part[step]
    part["of_a_newer_version"] = {"what": "it knows"}
    assert Appraisal.model_validate(data) == result
    assert Appraisal.model_validate_json(json.dumps(data)) == result


def test_what_a_person_writes_is_read_as_strictly_as_before() -> None:
    with pytest.raises(ValidationError, match="of_a_newer_version"):
        Heap.model_validate(
            {"lots": [{"material": "oak", "mass": "1 kg"}], "of_a_newer_version": 1}
        )
    with pytest.raises(ValidationError):
        Lot(material="oak", mass={"low": 1, "mid": 2, "high": 3, "unit": "kg", "newer": 1})


def test_a_result_that_lost_a_number_is_still_refused() -> None:
    data = json.loads(appraise(heap(), tables=tables()).model_dump_json())
    del data["dry_mass"]["mid"]
    with pytest.raises(ValidationError, match="not an estimate"):
        Appraisal.model_validate(data)


# --- without plugins ------------------------------------------------------------------------------


def test_no_plugins_on_the_command_line(run_cli: RunCli, monkeypatch: pytest.MonkeyPatch) -> None:
    """A broken package is an error with plugins, and nothing without."""
    import feedstock.tables.loading.load as load

    asked: list[Any] = []
    real = load.load_tables

    def spied(*paths: Any, **options: Any) -> Any:
        asked.append(options.get("plugins", True))
        return real(*paths, **options)

    monkeypatch.setattr(load, "load_tables", spied)
    path = EXAMPLES / "shed_clearout.yaml"
    for command in (("appraise", path), ("char", path), ("gather", path, "--want", "5 L")):
        assert run_cli(*command, "--no-plugins")[0] == 0
        assert run_cli(*command)[0] == 0
    assert asked == [False, True] * 3


def test_a_nan_amount_is_no_amount() -> None:
    with pytest.raises(InputError, match="no amount"):
        Heap.from_rows([{"material": "oak", "mass": math.nan}])
