"""What own batches taught, put into the chain of a lot."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from ..model.experience import Experience, Learned, own_batches
from ..physics import char, correction
from ..tables.rows.material import Material
from ..tables.rows.methods.char import YieldCurve
from ..tables.tables import Tables
from ..uncertainty.graph import Step, run
from ..uncertainty.inputs import Input, Origin, assumed_input, interval_input
from ..uncertainty.intervals import Z95
from ..uncertainty.keys import experience_key
from ..words import Message
from .model import LotModel


def feed_class(tables: Tables, row: Material) -> str:
    """The class of feed by which batches are learnt from: the group of the yield curve that the
    material belongs to.
    """
    return tables.method("yield-curve", YieldCurve)[1].groups.get(row.class_ or "", "")


def batches_told(
    experience: Experience, tables: Tables, burner_row: str, rows: Iterable[Material]
) -> list[Message]:
    """How much of a forecast for lots of these rows rests on own batches; where they are of other
    burners or kinds of feed alone, that none of them was used.
    """
    if not experience.learned:
        return []
    here = [level for level in experience.learned if level.burner == burner_row]
    feeds = {"", *(feed_class(tables, row) for row in rows)}
    if any(level.feed in feeds for level in here):
        return own_batches(experience, burner_row)
    if here:
        kinds = tuple(dict.fromkeys(level.feed for level in here))
        return [Message("experience.other-feed", feeds=kinds)]
    burners = dict.fromkeys(_called(level.burner) for level in experience.learned)
    return [Message("experience.other-burner", burners=tuple(burners), burner=_called(burner_row))]


def _called(burner_row: str) -> str:
    """A burner in a sentence: the experience may know one that these tables do not have."""
    return burner_row.partition(":")[2].replace("-", " ")


def with_experience(
    model: LotModel, tables: Tables, burner_row: str, experience: Experience
) -> LotModel:
    """The same lot with char mass and volume corrected.

    Contamination is judged by `uncorrected`, which own batches do not move.
    """
    feed = feed_class(tables, model.row)
    mass, volume = (
        experience.of("mass-per-feed", burner_row, feed),
        experience.of("volume-per-feed", burner_row, feed),
    )
    rate = experience.of("burning-rate", burner_row)
    if mass is None and volume is None:
        return replace(model, rate=rate)
    mids = run(model.chain, model.middles)
    steps, inputs = list[Step](), list(model.inputs)
    for step in model.chain:
        if step.output == "char_yield" and mass is not None:
            steps += _corrected(step, mass, mids, inputs)
        elif step.output == "char_carbon" and mass is not None:
            steps += [
                step._replace(output="char_carbon_before"),
                Step(
                    "char_carbon",
                    correction.in_step,
                    ("char_carbon_before", "char_yield", "char_yield_before"),
                ),
            ]
        elif step.output == "char_volume" and volume is not None:
            if mass is not None and "char_mass" in step.inputs:
                step = _by_uncorrected_mass(step, steps)
            steps += _corrected(step, volume, mids, inputs, model.volume_base)
        else:
            steps.append(step)
    return replace(
        model,
        chain=tuple(steps),
        inputs=tuple(inputs),
        outputs=model.outputs | {step.output for step in steps} | {entry.name for entry in inputs},
        uncorrected=model,
        rate=rate,
    )


def _by_uncorrected_mass(step: Step, steps: list[Step]) -> Step:
    """The step of a volume that was reckoned from the mass: the mass that was learnt must not move
    it a second time.
    """
    steps.append(Step("char_mass_before", char.char_mass, ("dry_mass", "char_yield_before")))
    names = ("char_mass_before" if name == "char_mass" else name for name in step.inputs)
    return step._replace(inputs=tuple(names))


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
    text = f"{learned.batches} own batch{'es' if learned.batches != 1 else ''}"
    half = Z95 * math.sqrt(learned.variance)
    low, mid, high = (math.exp(learned.shift + item) for item in (-half, 0.0, half))
    inputs += [
        assumed_input(
            f"{name}_stays",
            learned.irreducible_fraction,
            f"part of the width that no batch can teach; {text} stand for the rest",
        ),
        interval_input(
            f"{name}_own",
            (low, mid, high),
            "log",
            experience_key(learned.burner, learned.feed, learned.figure),
            Origin("assumption", f"own level of {learned.figure}, learnt from {text}"),
        ),
        assumed_input(f"{name}_usual", per, "what the tables alone give at their middle"),
    ]
    if not base:
        return [
            step._replace(output=f"{name}_before"),
            Step(
                name,
                correction.yield_with_experience,
                (f"{name}_before", f"{name}_usual", f"{name}_stays", f"{name}_own"),
                step.scale,
            ),
        ]
    return [
        step._replace(output=f"{name}_before"),
        Step(f"usual_{name}", correction.usual, (base, f"{name}_usual")),
        Step(
            name,
            correction.with_experience,
            (f"{name}_before", f"usual_{name}", f"{name}_stays", f"{name}_own"),
            step.scale,
        ),
    ]
