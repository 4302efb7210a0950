"""A page in a browser: fill in a heap lot by lot at the pile, see what goes in, print the sheet.

The heap travels with the forms as its own file, so the server keeps nothing of anybody.

Run: pip install '.[sheet]' flask && python examples/garden_app/app.py
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from flask import Flask, Response, render_template, request

from feedstock import Burn, FeedstockError, Heap, Lot, appraise, load_tables, text
from feedstock.tables.rows.contaminant import Sign

app = Flask(__name__)
app.config["MAX_CONTENT_LENGTH"] = 1_000_000

# what a person can say of an amount, and the fields that say it
AMOUNTS: Mapping[str, tuple[str, ...]] = {
    "weighed": ("mass",),
    "counted": ("pieces.count", "pieces.length", "pieces.diameter"),
    "heaped": ("volume", "packing"),
    "contained": ("containers.count", "containers.of"),
}
HINTS = {
    "mass": "40 kg",
    "pieces.count": "24",
    "pieces.length": "1.2 m",
    "pieces.diameter": "60 mm",
    "volume": "300 L",
    "packing": "loose",
    "containers.count": "3",
    "containers.of": "wheelbarrow",
}
MEASURES = ("diameter", "width", "length", "depth")


def said(form: Mapping[str, str], *names: str) -> dict[str, Any]:
    """The named fields that were filled in, nested ones under their first word."""
    found: dict[str, Any] = {}
    for name in names:
        value = form.get(name, "").strip()
        if value:
            outer, _, inner = name.partition(".")
            if inner:
                found.setdefault(outer, {})[inner] = int(value) if value.isdigit() else value
            else:
                found[name] = value
    return found


def problems_of(why: Exception) -> list[str]:
    """What is wrong, a sentence each."""
    if isinstance(why, FeedstockError):
        return [str(problem) for problem in why.problems]
    errors: list[dict[str, Any]] = getattr(why, "errors", list)()
    told = []
    for error in errors:
        field = ".".join(str(part) for part in error["loc"])
        told.append(f"{field}: {error['msg']}" if field else str(error["msg"]))
    return told or [str(why)]


def heap_of(form: Mapping[str, str]) -> dict[str, Any]:
    """The heap that travels with the form."""
    known = json.loads(form.get("heap") or "{}")
    if not isinstance(known, dict) or not isinstance(known.get("lots", []), list):
        raise ValueError("this is no heap")
    return {"lots": [], **known}


def burn_of(form: Mapping[str, str]) -> Burn | None:
    """The burner with its measures, None where none was chosen."""
    given = said(form, "burner", *MEASURES)
    return Burn.model_validate(given) if "burner" in given else None


def shown(known: dict[str, Any], form: Mapping[str, str], problems: list[str]) -> str:
    """The form with the heap so far, and what is wrong with what was filled in."""
    tables = load_tables()
    signs = [
        (row.display(row_id), str(row.asks), str(row.meaning))
        for row_id, row in tables.rows["signs"].items()
        if isinstance(row, Sign)
    ]
    return render_template(
        "heap.html",
        heap=json.dumps(known),
        lots=known["lots"],
        form=form,
        problems=problems,
        materials=tables.names("materials", "en"),
        origins=tables.names("origins", "en"),
        burners=tables.names("burners", "en"),
        signs=signs,
        amounts=AMOUNTS,
        hints=HINTS,
        measures=MEASURES,
    )


@app.get("/")
def begin() -> str:
    """An empty heap."""
    return shown({"lots": []}, {}, [])


@app.post("/lot")
def add_lot() -> tuple[str, int]:
    """One lot more, or what is wrong with it."""
    form = request.form
    try:
        known = heap_of(form)
    except ValueError as why:
        return shown({"lots": []}, form, problems_of(why)), 422
    given = said(form, "name", "material", "moisture", "origin")
    given |= said(form, *AMOUNTS.get(form.get("amount", ""), ()))
    signs = form.getlist("signs")
    if signs:
        given["signs"] = signs
    try:
        lot = Lot.model_validate(given)
        appraise(Heap(lots=[lot]), tables=load_tables())
    except (FeedstockError, ValueError) as why:
        return shown(known, form, problems_of(why)), 422
    known["lots"].append(given)
    return shown(known, {}, []), 200


@app.post("/without")
def drop_lot() -> tuple[str, int]:
    """The heap without one of its lots."""
    known = heap_of(request.form)
    place = int(request.form.get("lot", "-1"))
    known["lots"] = [lot for n, lot in enumerate(known["lots"]) if n != place]
    return shown(known, {}, []), 200


@app.post("/sheet")
def see_sheet() -> tuple[str, int]:
    """The answer, ready to be read on a phone or printed."""
    form = request.form
    try:
        known = heap_of(form)
        burn = burn_of(form)
        result = appraise(Heap.model_validate(known), burn, load_tables())
    except (FeedstockError, ValueError) as why:
        try:
            known = heap_of(form)
        except ValueError:
            known = {"lots": []}
        return shown(known, form, problems_of(why)), 422
    return text.sheet(result, units="us" if form.get("units") == "us" else "metric"), 200


@app.post("/file")
def keep_file() -> Response:
    """The heap as a file for the command line or for another day."""
    body = json.dumps(heap_of(request.form), indent=2, ensure_ascii=False)
    named = {"Content-Disposition": "attachment; filename=heap.json"}
    return Response(body, mimetype="application/json", headers=named)


@app.post("/open")
def open_file() -> tuple[str, int]:
    """A heap that was kept."""
    given = request.files.get("file")
    try:
        known = heap_of({"heap": given.read().decode() if given is not None else ""})
        Heap.model_validate(known)
    except ValueError as why:
        return shown({"lots": []}, {}, problems_of(why)), 422
    return shown(known, {}, []), 200


if __name__ == "__main__":
    app.run(host="127.0.0.1", port=8123)
