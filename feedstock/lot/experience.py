"""What own batches taught, put into the chain of a lot."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from ..model.experience import Experience, Learned
from ..physics import char, correction
from ..tables.rows.material import Material
from ..tables.rows.methods.char import YieldCurve
from ..tables.tables import Tables
from ..uncertainty.graph import Chain, Step, run
from ..uncertainty.inputs import Input, Origin
from ..uncertainty.intervals import P95
from .builder import Bound, Builder


def feed_class(tables: Tables, row: Material) -> str:
    """The class of feed by which batches are learnt from: the group of the yield curve that the
    material belongs to.
    """
    return tables.method("yield-curve", YieldCurve)[1].groups.get(row.class_ or "", "")


def with_experience(bound: Bound, b: Builder, burner_row: str, experience: Experience) -> Bound:
    """The same lot with char mass and volume corrected.

    The gates of contamination are judged on `before`, which own batches do not move.
    """
    feed = feed_class(b.tables, b.row)
    mass, volume = (
        experience.of("mass-per-feed", burner_row, feed),
        experience.of("volume-per-feed", burner_row, feed),
    )
    rate = experience.of("burning-rate", burner_row)
    if mass is None and volume is None:
        return replace(bound, rate=rate)
    mids = run(bound.chain, {each.name: each.mid for each in bound.inputs})
    steps, inputs = list[Step](), list(bound.inputs)
    for step in bound.chain:
        if step.output == "char_yield" and mass is not None:
            steps += _corrected(step, mass, mids, inputs)
        elif step.output == "char_carbon" and mass is not None:
            steps += [
                replace(step, output="char_carbon_before"),
                Step(
                    "char_carbon",
                    correction.in_step,
                    ("char_carbon_before", "char_yield", "char_yield_before"),
                ),
            ]
        elif step.output == "char_volume" and volume is not None:
            if (
                mass is not None and "char_mass" in step.inputs
            ):  # the mass that was learnt must not move the volume a second time
                steps.append(
                    Step("char_mass_before", char.char_mass, ("dry_mass", "char_yield_before"))
                )
                step = replace(
                    step,
                    inputs=tuple(
                        "char_mass_before" if name == "char_mass" else name for name in step.inputs
                    ),
                )
            steps += _corrected(step, volume, mids, inputs, volume_base(bound.chain))
        else:
            steps.append(step)
    return replace(bound, chain=tuple(steps), inputs=tuple(inputs), before=bound, rate=rate)


def volume_base(chain: Chain) -> str:
    """What char volume is counted per: dry feed, or solid wood where both it and the dry mass were
    reckoned from that, so that the density of the wood stands on both sides and cancels.
    """
    of_solid = any(step.output == "char_volume" and "solid_volume" in step.inputs for step in chain)
    return "solid_volume" if of_solid else "dry_mass"


def _corrected(
    step: Step, learned: Learned, mids: dict[str, Any], inputs: list[Input], base: str = ""
) -> list[Step]:
    """The steps that stand for `step`: as it was, what the tables' middle gives, and the
    correction. Adds the inputs that they need.
    """
    name = step.output
    per = mids[name] / (mids[base] if base else 1.0)
    if per <= 0:
        return [step]
    told = f"{learned.batches} own batch{'es' if learned.batches != 1 else ''}"
    half = P95 * math.sqrt(learned.variance)
    low, mid, high = (math.exp(learned.shift + each) for each in (-half, 0.0, half))
    inputs += [
        Input(
            f"{name}_stays",
            *(learned.stays,) * 3,
            "linear",
            f"exact:{name}_stays",
            Origin(
                "assumption",
                f"part of the width that no batch can teach; {told} stand for the rest",
            ),
        ),
        Input(
            f"{name}_own",
            low,
            mid,
            high,
            "log",
            learned.key,
            Origin("assumption", f"own level of {learned.figure}, learnt from {told}"),
        ),
        Input(
            f"{name}_usual",
            *(per,) * 3,
            "linear",
            f"exact:{name}_usual",
            Origin("assumption", "what the tables alone give at their middle"),
        ),
    ]
    if not base:
        return [
            replace(step, output=f"{name}_before"),
            Step(
                name,
                correction.yield_with_experience,
                (f"{name}_before", f"{name}_usual", f"{name}_stays", f"{name}_own"),
                step.scale,
            ),
        ]
    return [
        replace(step, output=f"{name}_before"),
        Step(f"usual_{name}", correction.usual, (base, f"{name}_usual")),
        Step(
            name,
            correction.with_experience,
            (f"{name}_before", f"usual_{name}", f"{name}_stays", f"{name}_own"),
            step.scale,
        ),
    ]
