"""At home in other programs: a web interface, data frames, a notebook, an event loop, processes."""

from __future__ import annotations

import asyncio
import json
from concurrent.futures import ProcessPoolExecutor
from typing import Any

import pandas as pd
import polars as pl
import pytest
from fastapi import FastAPI, Request
from fastapi.responses import JSONResponse
from fastapi.testclient import TestClient

from builders import heap, tables
from feedstock import Appraisal, FeedstockError, Heap, appraise

pytestmark = [
    pytest.mark.host,
    pytest.mark.worked,
    # some versions of the web framework hand pydantic an alias where it has none to give
    pytest.mark.filterwarnings("ignore:The 'alias' attribute with value:UserWarning"),
]

ROWS: list[dict[str, Any]] = [
    {"material": "oak", "mass": "40 kg", "moisture": "17 % wet", "origin": "own trees"},
    {"material": "wheat straw", "mass": "9 kg", "moisture": None, "origin": "farm"},
]


def web() -> FastAPI:
    app = FastAPI()

    @app.exception_handler(FeedstockError)
    async def told(request: Request, why: FeedstockError) -> JSONResponse:
        detail = [{"loc": list(p.path), "msg": str(p), "type": p.code} for p in why.problems]
        return JSONResponse({"detail": detail}, 422)

    @app.post("/appraisals")
    def make(given: Heap) -> Appraisal:
        return appraise(given, tables=tables())

    return app


def test_a_heap_goes_in_and_an_appraisal_comes_out() -> None:
    client = TestClient(web())
    got = client.post("/appraisals", json={"lots": ROWS})
    assert got.status_code == 200
    assert Appraisal.model_validate(got.json()) == appraise(
        Heap.model_validate({"lots": ROWS}), tables=tables()
    )


@pytest.mark.parametrize(
    ("field", "value", "place"),
    [("material", "oaak", "material"), ("mass", "40", "mass"), ("origin", "elsewhere", "origin")],
)
def test_a_mistake_is_an_answer_of_422(field: str, value: str, place: str) -> None:
    client = TestClient(web(), raise_server_exceptions=False)
    got = client.post("/appraisals", json={"lots": [{**ROWS[0], field: value}]})
    assert got.status_code == 422
    assert place in json.dumps(got.json()["detail"])


def test_the_interface_describes_itself() -> None:
    described = TestClient(web()).get("/openapi.json").json()["components"]["schemas"]
    assert {"Estimate", "Finding"} <= {name.partition("-")[0] for name in described}


@pytest.mark.parametrize("frame", [pd.DataFrame, pl.DataFrame])
def test_rows_of_a_data_frame(frame: Any) -> None:
    made = frame(ROWS)
    rows = made.to_dict("records") if frame is pd.DataFrame else made.to_dicts()
    result = appraise(Heap.from_rows(rows), tables=tables())
    back = frame(result.to_rows())
    assert len(back) == len(ROWS)
    assert result == appraise(Heap.model_validate({"lots": ROWS}), tables=tables())


def test_a_notebook_shows_a_result() -> None:
    shown = appraise(heap(), tables=tables())._repr_html_()
    assert "oak" in shown
    assert "<script" not in shown


def test_many_at_once_in_an_event_loop() -> None:
    async def all_of_them() -> list[Appraisal]:
        return await asyncio.gather(
            *(asyncio.to_thread(appraise, heap(), None, tables()) for _ in range(20))
        )

    assert set(map(hash, asyncio.run(all_of_them()))) == {hash(appraise(heap(), None, tables()))}


def _char(given: Heap) -> float:
    return appraise(given).char_mass.mid_value


def test_a_pool_of_processes() -> None:
    with ProcessPoolExecutor(2) as pool:
        found = list(pool.map(_char, [heap(), heap()]))
    assert found[0] == found[1] == appraise(heap()).char_mass.mid_value
