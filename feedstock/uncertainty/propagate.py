"""From a chain and its inputs to figures: each key moved once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from ..quantities.cell import Scale
from .figure import _ROUNDING, At, Figure, lopsided
from .graph import Chain, Step, _downstream, _rerun, run, upstream
from .inputs import Input, Number
from .intervals import P95


def _joint_run(
    chain: Chain, base: Mapping[str, Number], groups: Mapping[str, Sequence[Input]], output: str
) -> At:
    """An output anywhere between the ends of its inputs.

    Only the steps that lead to it run; which they are is found out at the first call.
    """
    steps: list[Step] = []
    values: dict[str, Number] = {}
    members: dict[str, list[Input]] = {}

    def at(normals: Mapping[str, float]) -> Number:
        if not values:
            needed = upstream(chain, output)
            steps.extend(step for step in chain if step.output in needed)
            values.update((name, base[name]) for name in needed)
            members.update(
                (key, [each for each in inputs if each.name in needed])
                for key, inputs in groups.items()
            )
        return run(
            steps,
            {
                **values,
                **{
                    each.name: each.at(z)
                    for key, z in normals.items()
                    for each in members.get(key, ())
                },
            },
        )[output]

    return at


def figures(chain: Chain, inputs: Sequence[Input], wanted: Sequence[str]) -> dict[str, Figure]:
    """The wanted outputs of a chain, each with its doubts by key."""
    base = run(chain, {each.name: each.mid for each in inputs})
    scales: dict[str, Scale] = {step.output: step.scale for step in chain}
    scales.update({each.name: each.scale for each in inputs if each.name not in scales})
    groups: dict[str, list[Input]] = {}
    after = _downstream(chain)
    for each in inputs:
        if not each.certain and (each.name in after or each.name in wanted):
            groups.setdefault(each.key, []).append(each)

    def rerun(moved: Iterable[tuple[Input, Number]]) -> dict[str, Number]:
        return _rerun(chain, after, base, {each.name: value for each, value in moved})

    moves = {
        key: (
            rerun((each, each.low) for each in members),
            rerun((each, each.high) for each in members),
        )
        for key, members in groups.items()
    }

    def half(key: str) -> tuple[dict[str, Number], dict[str, Number]]:
        return rerun((each, each.at(-P95 / 2)) for each in groups[key]), rerun(
            (each, each.at(P95 / 2)) for each in groups[key]
        )

    return from_moves(
        base,
        moves,
        half,
        {name: _joint_run(chain, base, groups, name) for name in wanted},
        {name: scales[name] for name in wanted},
    )


Values = Mapping[str, Number]


def from_moves(
    base: Values,
    moves: Mapping[str, tuple[Values, Values]],
    half: Callable[[str], tuple[Values, Values]],
    joint: Mapping[str, At],
    wanted: Mapping[str, Scale],
) -> dict[str, Figure]:
    """Figures from all values at the middle and with each key at its ends.

    `half` gives all values with a key half way to its ends, `joint` the way to run each figure,
    `wanted` the scales.
    """
    found = {}
    for name, scale in wanted.items():
        doubts = {
            key: (low[name] - base[name], high[name] - base[name])
            for key, (low, high) in moves.items()
        }
        found[name] = Figure(
            base[name],
            {key: pair for key, pair in doubts.items() if not _nothing(pair, base[name])},
            scale,
        )
    if not all(isinstance(each.mid, (int, float)) for each in found.values()):
        return found
    uneven = {name: lopsided(each) for name, each in found.items()}
    halves = {
        key: half(key) for key in dict.fromkeys(key for keys in uneven.values() for key in keys)
    }
    for name, figure in found.items():
        changes = {
            key: (halves[key][0][name] - base[name], halves[key][1][name] - base[name])
            for key in uneven[name]
        }
        found[name] = replace(figure, halves=changes, joint=joint.get(name))
    return found


def _nothing(pair: tuple[Number, Number], mid: Number) -> bool:
    """Whether a key leaves a figure where it is, but for rounding: such a key must not count as a
    doubt that lots share or not.
    """
    low, high = pair
    return (
        isinstance(low, (int, float))
        and isinstance(high, (int, float))
        and max(abs(low), abs(high)) <= _ROUNDING * abs(mid)
    )
