"""Estimates in their one unit, and the numbers of results."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from ..quantities.estimate import Estimate, FigureUnit

Percent = Annotated[Estimate, FigureUnit("%")]


Plain = Annotated[Estimate, FigureUnit("1")]


Kilograms = Annotated[Estimate, FigureUnit("kg")]


Litres = Annotated[Estimate, FigureUnit("L")]


LitresPerMinute = Annotated[Estimate, FigureUnit("L/min")]


Metres = Annotated[Estimate, FigureUnit("m")]


Millimetres = Annotated[Estimate, FigureUnit("mm")]


SquareMetres = Annotated[Estimate, FigureUnit("m^2")]


PerVolume = Annotated[Estimate, FigureUnit("kg/m^3")]


PerArea = Annotated[Estimate, FigureUnit("kg/m^2")]


PerMass = Annotated[Estimate, FigureUnit("mg/kg")]


Degrees = Annotated[Estimate, FigureUnit("degC")]


Minutes = Annotated[Estimate, FigureUnit("min")]


Hours = Annotated[Estimate, FigureUnit("h")]


Weeks = Annotated[Estimate, FigureUnit("week")]


Finite = Annotated[float, Field(allow_inf_nan=False)]


Variance = Annotated[float, Field(gt=0, le=25, allow_inf_nan=False)]
