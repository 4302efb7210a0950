"""Estimates in their one unit, for what comes after the burn."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from ..quantities.estimate import Estimate, FigureUnit

Kilograms = Annotated[Estimate, FigureUnit("kg")]


Litres = Annotated[Estimate, FigureUnit("L")]


Percent = Annotated[Estimate, FigureUnit("%")]


Plain = Annotated[Estimate, FigureUnit("1")]


Degrees = Annotated[Estimate, FigureUnit("degC")]


Metres = Annotated[Estimate, FigureUnit("m")]


SquareMetres = Annotated[Estimate, FigureUnit("m^2")]


Weeks = Annotated[Estimate, FigureUnit("week")]


Millimetres = Annotated[Estimate, FigureUnit("mm")]


Finite = Annotated[float, Field(allow_inf_nan=False)]


Variance = Annotated[float, Field(gt=0, le=25, allow_inf_nan=False)]


class _Data(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")
