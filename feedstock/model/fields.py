"""Estimates in their one unit."""

from __future__ import annotations

from typing import Annotated

from ..quantities.estimate import Estimate, FigureUnit

Percent = Annotated[Estimate, FigureUnit("%")]


Kilograms = Annotated[Estimate, FigureUnit("kg")]


Litres = Annotated[Estimate, FigureUnit("L")]


PerVolume = Annotated[Estimate, FigureUnit("kg/m^3")]


PerMass = Annotated[Estimate, FigureUnit("mg/kg")]


Minutes = Annotated[Estimate, FigureUnit("min")]
