"""Char and compost materials as a person gives them."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any, Literal, Self, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from ..documents.encoding import read_text
from ..documents.json_reader import read_json
from ..documents.problems import problems_of
from ..documents.yaml_reader import read_yaml
from ..errors import InputError, Problem, UnknownName, nearest_names, shown
from ..model.appraisal import Appraisal, LotAppraisal
from ..model.findings import Verdict
from ..model.inputs.amount import Containers
from ..model.inputs.fields import Density, Mass, ShareBelowOne, Text, Volume, Words
from ..quantities.cell import Scale
from ..quantities.estimate import Estimate, custom_error
from ..quantities.fields import Measured, MoistureField, QuantityField
from ..quantities.frozen import frozen
from ..tables.inputs import cell_input
from ..tables.names.index import Index
from ..tables.rows.methods.amount import Instruments
from ..tables.rows.methods.char import WoodChar
from ..tables.rows.methods.compost import CompostMaterials, CompostPractice
from ..tables.tables import Tables
from ..uncertainty.formula import formula
from ..uncertainty.graph import Step
from ..uncertainty.inputs import Input, Origin, stated_input
from ..uncertainty.keys import Key, compost_key

_WET = (
    "Measure it heaped in a bucket and write volume: 60 L; or say its moisture (55 % wet), "
    "by a sample that was dried."
)


MOST_PARTS = 100


class CharGiven(BaseModel):
    """Char that lies ready: heaped volume, or a mass with its moisture.

    `density` is dry mass per heaped volume.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    volume: Volume | None = None
    mass: Mass | None = None
    moisture: Annotated[Measured, MoistureField()] | None = None
    density: Density | None = None

    @model_validator(mode="before")
    @classmethod
    def _by_volume(cls, raw: Any) -> Any:
        return raw if isinstance(raw, (Mapping, CharGiven)) else {"volume": raw}

    @model_validator(mode="after")
    def _one(self) -> Self:
        if (self.volume is None) == (self.mass is None):
            raise custom_error(
                "no-amount" if self.mass is None else "two-amounts",
                "the char has no amount"
                if self.mass is None
                else "the char is given by volume and by mass",
                "Write volume: 60 L.",
            )
        if self.mass is not None and self.moisture is None:
            raise custom_error(
                "wet-mass",
                f"'{shown(self.mass.text)}' of char without its moisture: quenched "
                "char holds one to four times its own mass of water",
                _WET,
                at=("mass",),
            )
        return self


class ForecastChar(CharGiven):
    """The char of an appraisal: its volume, and its dry mass, as that has both."""

    dry: Mass


class CompostGiven(BaseModel):
    """A material of the mix by a name of the tables, with an amount (or none: an equal part), and
    what is known better than the tables.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    material: Text
    volume: Volume | None = None
    mass: Mass | None = None
    containers: Containers | None = None
    moisture: Annotated[Measured, MoistureField()] | None = None
    nitrogen: ShareBelowOne | None = None
    carbon_to_nitrogen: (
        Annotated[Measured, QuantityField("number", above=0, maximum=5000)] | None
    ) = None
    density: Density | None = None
    origin: Text = "unknown"
    signs: Words = ()

    @model_validator(mode="before")
    @classmethod
    def _by_name(cls, raw: Any) -> Any:
        return {"material": raw} if isinstance(raw, str) else raw

    @model_validator(mode="after")
    def _one(self) -> Self:
        ways = [
            name for name in ("volume", "mass", "containers") if getattr(self, name) is not None
        ]
        if len(ways) > 1:
            raise custom_error(
                "two-amounts",
                f"the amount is given by {' and by '.join(ways)}",
                "Write volume: 200 L, mass: 80 kg or containers: {count: 8, of: bucket}.",
            )
        return self


class MixFile(BaseModel):
    """A file of `feedstock blend`: char, parts, the wanted share, and at will the dressing of the
    beds.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    name: Text | None = None
    char: CharGiven
    parts: Annotated[tuple[CompostGiven, ...], Field(max_length=MOST_PARTS)] = ()
    fraction: Text | None = None
    by: Literal["volume", "mass"] = "volume"
    dressing: Text | None = None
    depth: Text | None = None

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> MixFile:
        """Raises InputError with all problems, each with its line."""
        text, name = read_text(path), os.fspath(path)
        document = (
            read_json(text, name) if name.lower().endswith(".json") else read_yaml(text, name)
        )
        try:
            return cls.model_validate(document.data)
        except ValidationError as why:
            raise InputError(problems_of(why, cls, document)) from None


def char_given(char: Any, tables: Tables) -> CharGiven:
    """Char from a text or quantity of volume, a mapping, an `Estimate`, or the char of an
    appraisal. Raises InputError.
    """
    if isinstance(char, CharGiven):
        return char
    if isinstance(char, (Appraisal, LotAppraisal)):
        volume, mass = _ready_char(char)
        if volume is None or mass is None or volume.mid_value <= 0:
            raise InputError(
                [
                    Problem(
                        "no-amount",
                        "this appraisal gives no char by volume",
                        "Measure the char and write its volume.",
                        "char",
                    )
                ]
            )
        return ForecastChar.model_validate({"volume": volume, "dry": mass})
    return _validated(CharGiven, char, "char")


def _ready_char(char: Appraisal | LotAppraisal) -> tuple[Estimate | None, Estimate | None]:
    """Volume and mass of the char of what is ready. Raises InputError where nothing is."""
    if isinstance(char, LotAppraisal):
        ready, figures = char.verdict is Verdict.READY, (char.char_volume, char.char_mass)
    else:
        ready = any(lot.verdict is Verdict.READY for lot in char.lots)
        figures = (char.char_volume_ready, char.char_mass_ready)
    if not ready:
        raise InputError(
            [
                Problem(
                    "not-ready",
                    "nothing of it is ready to be burnt, so there is no char to spread",
                    "Do what its findings say first, or measure char that lies there and write "
                    "its volume.",
                    "char",
                )
            ]
        )
    return figures


def compost_given(part: Any, index: int) -> CompostGiven:
    """A part from a name, a mapping or a pair (name, volume). Raises InputError."""
    if isinstance(part, CompostGiven):
        return part
    if isinstance(part, (tuple, list)) and len(part) == 2:
        part = {"material": part[0], "volume": part[1]}
    return _validated(CompostGiven, part, f"parts[{index}]")


Model = TypeVar("Model", bound=BaseModel)


def _validated(model: type[Model], data: Any, path: str) -> Model:
    try:
        return model.model_validate(data)
    except ValidationError as why:
        raise InputError(
            [
                replace(item, field=".".join(p for p in (path, item.field) if p))
                for item in problems_of(why, model)
            ]
        ) from None


@frozen
class Known:
    """A material with its inputs: moisture (wet basis), nitrogen of dry matter, C:N, density as it
    lies.
    """

    name: str
    moisture: Input
    nitrogen: Input | None
    ratio: Input | None
    density: Input

    @property
    def inputs(self) -> list[Input]:
        return [
            item
            for item in (self.moisture, self.nitrogen, self.ratio, self.density)
            if item is not None
        ]


def known_material(entry: CompostGiven, index: int, tables: Tables) -> Known:
    """What the tables and the person know of a part.

    Raises UnknownName for a material that is in neither.
    """
    row_id, row = tables.method("compost-materials", CompostMaterials)
    paths = Index(
        {
            f":{key}": [n for names in item.names.values() for n in names]
            for key, item in row.of.items()
        }
    ).find(entry.material)
    if len(paths) != 1:
        words = [item.names["en"][0] for item in row.of.values()]
        own = (entry.moisture, entry.nitrogen, entry.carbon_to_nitrogen, entry.density)
        if any(item is None for item in own):
            raise UnknownName(
                [
                    Problem(
                        "unknown-material",
                        f"'{shown(entry.material)}' is not among the materials for compost",
                        f"Write of: {', '.join(words)}; or give moisture, nitrogen, "
                        "carbon_to_nitrogen and density of your own.",
                        f"parts[{index}].material",
                        nearest=nearest_names(entry.material, words),
                    )
                ]
            )
    stated = tables.method("compost-practice", CompostPractice)[1].stated.mid
    wettest = tables.method("instruments", Instruments)[1].wettest_end.mid
    key = paths[0][1:] if len(paths) == 1 else ""
    cells = row.of.get(key)

    def take(name: str, measured: Measured | None, scale: Scale) -> Input:
        label = f"part{index}_{name}"
        if measured is not None:
            part = compost_key("part", str(index), name)
            return measured_input(label, measured, scale, stated, part, wettest)
        assert cells is not None
        return cell_input(tables, label, "methods", row_id, ("of", key, name))

    return Known(
        entry.material,
        take("moisture", entry.moisture, "logit"),
        take("nitrogen", entry.nitrogen, "logit"),
        take("ratio", entry.carbon_to_nitrogen, "log"),
        take("density", entry.density, "log"),
    )


def measured_input(
    name: str, measured: Measured, scale: Scale, error: float, key: Key, most: float = 1.0
) -> Input:
    """What the person said, with their own range or a relative error; a moisture on wet basis, with
    its ends at `most`.
    """
    origin = Origin("field", f"{name}: {measured.text}")
    stated = stated_input(name, measured, key, origin, error=error)
    if scale != "logit":
        return replace(stated, scale=scale)
    low, mid, high = (min(item, most) for item in (stated.low, stated.mid, stated.high))
    return replace(stated, low=low, mid=mid, high=high, scale=scale if low > 0 else "linear")


@formula("dry mass of heaped char", "identity", volume="m^3", density="kg/m^3", result="kg")
def _dry(volume: Any, density: Any) -> Any:
    return volume * density


@formula("density of char", "identity, m / V", dry="kg", volume="m^3", result="kg/m^3")
def _density(dry: Any, volume: Any) -> Any:
    return dry / volume


@formula(
    "heaped volume", "identity, m (1 - w) / rho", mass="kg", wet="1", density="kg/m^3", result="m^3"
)
def _heaped(mass: Any, wet: Any, density: Any) -> Any:
    return mass * (1.0 - wet) / density


def char_inputs(char: CharGiven, tables: Tables) -> tuple[list[Input], list[Step]]:
    """Inputs and steps that end in `char_volume` (m3), `char_dry` (kg) and `char_density` (dry mass
    per heaped volume), with `char_moisture` (wet basis); of a mass also `char_lying`.

    Char of an appraisal has the volume and the mass of that, so that its density is the same.
    """
    stated = tables.method("compost-practice", CompostPractice)[1].stated.mid
    tools = tables.method("instruments", Instruments)[1]
    key = compost_key("char", "amount")
    inputs, steps = [_char_moisture(char, tables)], list[Step]()
    if isinstance(char, ForecastChar):
        assert char.volume is not None
        inputs += [
            measured_input("char_volume", char.volume, "log", tools.volume.mid, key),
            measured_input("char_dry", char.dry, "log", tools.scale.mid, key),
        ]
        return inputs, [Step("char_density", _density, ("char_dry", "char_volume"))]
    if char.density is not None:
        own = compost_key("char", "density")
        inputs.append(measured_input("char_density", char.density, "log", stated, own))
    else:
        row_id, _ = tables.method("wood-char", WoodChar)
        inputs.append(cell_input(tables, "char_density", "methods", row_id, ("unknown",)))
    if char.volume is not None:
        inputs.append(measured_input("char_volume", char.volume, "log", tools.volume.mid, key))
    else:
        assert char.mass is not None
        inputs.append(measured_input("char_lying", char.mass, "log", tools.scale.mid, key))
        steps.append(Step("char_volume", _heaped, ("char_lying", "char_moisture", "char_density")))
    steps.append(Step("char_dry", _dry, ("char_volume", "char_density")))
    return inputs, steps


def _char_moisture(char: CharGiven, tables: Tables) -> Input:
    row_id, row = tables.method("compost-practice", CompostPractice)
    if char.moisture is None:
        return cell_input(tables, "char_moisture", "methods", row_id, ("char_moisture",))
    wettest = tables.method("instruments", Instruments)[1].wettest_end.mid
    key = compost_key("char", "moisture")
    return measured_input("char_moisture", char.moisture, "logit", row.stated.mid, key, wettest)
