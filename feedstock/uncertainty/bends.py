"""Chains with steps that take the least of several things in doubt: run once for each of those that
can be the least, they are smooth.

What rests on such a step is itself the least of these runs where it rises with the step, and the
greatest where it falls. Where doubts act jointly beyond what a fold of curves bears, the runs are
looked at with one key at a few places, and the looks are mixed.
"""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

from ..quantities.frozen import frozen
from . import folds
from .branches import Branch
from .figure import UncertainValue
from .graph import Chain, Step
from .inputs import FLOAT_WAYS
from .intervals import HIGH, LOW, Z95
from .joined import Joined
from .least import ends_with, percentiles_of

_SURE = 3.0
"""Where one figure stands this far below another, in spreads of their difference, the other never
is the least.
"""
_ONE_SIDED, _OF_SUMS = 1 / 64, 1 / 12
"""Where keys do more than this part of the width jointly and at one end alone, a figure is looked
at by one of them; a fold bears more of it in what is a sum.
"""
_LOOKS = tuple((weight, z) for z, weight in folds.gauss_nodes(5))
_STRONG = 0.3
"""Keys that do less to a figure, as a part of all that is done to it, are not of its direction."""
_NONE = (0.0, 0.0)
Direction = tuple[tuple[str, float], ...]
"""Keys that move together, each with what it does of a step along their direction."""
Figures = Mapping[str, UncertainValue]
Function = Callable[..., Any]


@frozen
class Bends:
    """`choices` has for every step that takes the least the names among which it chooses in the
    end, `behind` for every output that rests on one the last of them.
    """

    chain: Chain
    choices: Mapping[str, tuple[str, ...]]
    behind: Mapping[str, str]

    __eq__ = object.__eq__
    __hash__ = object.__hash__


@lru_cache(maxsize=64)
def bends_of(chain: Chain, least: tuple[Function, ...]) -> Bends:
    """Where a chain bends; `least` are the functions that take the least of their arguments."""
    choices, behind = dict[str, tuple[str, ...]](), dict[str, str]()
    for step in chain:
        if step.function in least:
            names = [choices.get(name, (name,)) for name in step.inputs]
            choices[step.output] = tuple(dict.fromkeys(itertools.chain.from_iterable(names)))
            behind[step.output] = step.output
        else:
            before = [behind[name] for name in step.inputs if name in behind]
            if before:
                behind[step.output] = before[-1]
    return Bends(chain, choices, behind)


def variant(output: str, choice: str) -> str:
    """The name of an output where a choice is the least."""
    return f"{output} by {choice}"


@lru_cache(maxsize=256)
def steps_by(bends: Bends, choice: str) -> Chain:
    """The steps behind the bends of a chain where this choice is the least wherever it is one."""
    names, steps = dict[str, str](), list[Step]()
    for step in bends.chain:
        if choice in bends.choices.get(step.output, ()):
            names[step.output] = choice
        elif step.output in bends.behind:
            renamed = variant(step.output, choice)
            inputs = tuple(names.get(name, name) for name in step.inputs)
            steps.append(Step(renamed, step.function, inputs, step.scale))
            names[step.output] = renamed
    return tuple(steps)


def _steps_behind(bends: Bends, choices: Iterable[Iterable[str]]) -> Chain:
    """The steps behind the bends for every choice that can be the least."""
    every = dict.fromkeys(itertools.chain.from_iterable(choices))
    return tuple(step for choice in every for step in steps_by(bends, choice))


def figures_of(
    joined: Joined,
    wanted: Sequence[str],
    least: tuple[Function, ...],
    sums: Collection[str],
    times: Collection[str],
    quotients: tuple[Function, ...] = (),
) -> dict[str, UncertainValue]:
    """The wanted outputs of a chain that bends where the functions `least` stand; `sums` of them
    add several parts in doubt, the doubts of `times` among the given act jointly with others, and
    `quotients` are functions that divide a figure by an input.
    """
    bends = bends_of(joined.chain, least)
    bent = [name for name in wanted if name in bends.behind]
    below = {bends.behind[name]: bends.choices[bends.behind[name]] for name in bent}
    choices = list(itertools.chain.from_iterable(below.values()))
    figures = joined.run(choices).figures(halved=False)
    winning = {bend: _winning(names, figures) for bend, names in below.items()}
    more = _steps_behind(bends, winning.values())
    divided = _divided(joined, quotients, [n for n in bent if len(winning[bends.behind[n]]) > 1])
    ways = {
        name: [variant(name, c) for c in winning[bends.behind[name]]] if name in bent else [name]
        for name in wanted
        if name not in divided
    }
    middles = _middles(bends, bent, winning, figures) | {n: n for n in wanted if n not in bent}
    # what does not bend is run here too: what its keys do half way to their ends costs least so
    run = [*(way for names in ways.values() for way in names), *middles.values()]
    figures |= joined.figures(run, more)
    branches = {way: Branch.of(figures[way]) for names in ways.values() for way in names}
    results = {name: joined.given.get(name) or figures[middles[name]] for name in ways}
    groups = dict[Direction, list[str]]()
    for name in [name for name in ways if name not in joined.given]:
        limit = _OF_SUMS if name in sums else _ONE_SIDED
        along = _looked_along(joined, [branches[way] for way in ways[name]], limit, times)
        if along or name in bent:
            groups.setdefault(along, []).append(name)
    for along, group in groups.items():
        names = [way for name in group for way in ways[name]]
        looks = _looks(joined, along, names, more) if along else [(1.0, branches)]
        for name in group:
            rises = _rises(figures, ways[name], winning.get(bends.behind.get(name, ""), ()))
            parts = [(weight, [look[way] for way in ways[name]]) for weight, look in looks]
            by = {other: key for other, (of, key) in divided.items() if of == name}
            found = percentiles_of(parts, rises, (LOW, 0.5, HIGH) if by else (LOW, HIGH))
            results[name] = replace(results[name], drawn=(found[0], found[-1]))
            for other, key in by.items():
                results[other] = _quotient(figures[middles[other]], results[name].mid, found, key)
    return results


def _middles(
    bends: Bends, bent: Iterable[str], winning: Mapping[str, Sequence[str]], figures: Figures
) -> dict[str, str]:
    """What bends, each with its run by the choice that is the least at the middle."""
    least = {bend: min(names, key=lambda n: figures[n].mid) for bend, names in winning.items()}
    return {name: variant(name, least[bends.behind[name]]) for name in bent}


def _quotient(
    figure: UncertainValue, of: float, found: Sequence[float], key: str
) -> UncertainValue:
    """A quotient with its ends, from percentiles of what is divided and the key of that by which;
    `of` is the middle of what is divided.
    """
    change = dict(zip(figure.sensitivities, figure.changes(math.log), strict=True))[key]
    low, high = ends_with(found, change)
    return replace(figure, drawn=(low * figure.mid / of, high * figure.mid / of))


def _divided(
    joined: Joined, quotients: tuple[Function, ...], bent: Collection[str]
) -> dict[str, tuple[str, str]]:
    """The quotients among the wanted figures, each with the wanted figure that is divided and the
    key of the input by which, where nothing else rests on that.
    """
    inputs = {item.name: item for item in joined.inputs if not item.exact}
    keys = Counter(item.key for item in inputs.values())
    keys.update(key for given in joined.given.values() for key in given.sensitivities)
    read = Counter(name for step in joined.chain for name in step.inputs)
    found = {}
    for step in joined.chain:
        if step.function in quotients and step.output in bent:
            of, by = step.inputs
            if of in bent and by in inputs and read[by] == 1 and keys[inputs[by].key] == 1:
                found[step.output] = of, inputs[by].key
    return found


def _direction(figure: UncertainValue) -> Direction:
    """The direction in which the keys that do most to a figure move it fastest."""
    weights = Branch.of(figure).loadings(frozenset())
    strong = {key: weight for key, weight in weights.items() if abs(weight) > _STRONG}
    length = math.hypot(*strong.values())
    return tuple((key, weight / length) for key, weight in strong.items())


def _looks(
    joined: Joined, along: Direction, names: Sequence[str], more: Chain
) -> list[tuple[float, Mapping[str, Branch]]]:
    looks = list[tuple[float, Mapping[str, Branch]]]()
    run = joined.run(names, more)
    for weight, z in _LOOKS:
        figures = run.seen({key: part * z for key, part in along}).figures()
        looks.append((weight, {name: Branch.of(figure) for name, figure in figures.items()}))
    return looks


def _looked_along(
    joined: Joined, branches: Sequence[Branch], limit: float, times: Collection[str]
) -> Direction:
    """The key, or the direction of several, along which what is one of these figures is to be
    looked at; none where its doubts add up.
    """
    guess = next((g.guessed.person for g in joined.given.values() if g.guessed is not None), "")
    if any(guess in branch.shapes for branch in branches):
        return ((guess, 1.0),)
    worst = max(branches, key=Branch.one_sided)
    if worst.one_sided() <= limit:
        return ()
    acting = [joined.given[name] for name in times if name in joined.given]
    tried = [*(((key, 1.0),) for key in worst.tried()), *filter(None, map(_direction, acting))]
    return min(
        tried,
        key=lambda along: worst.one_sided(worst.shapes.keys() - {k for k, _ in along}),
        default=(),
    )


def _rises(of: Figures, names: Sequence[str], on: Sequence[str]) -> bool:
    """Whether figures rise with the choices that they rest on, seen at the middle and at the ends
    of keys.
    """
    if len(names) < 2:
        return True
    pairs = [(of[name], of[choice]) for name, choice in zip(names, on, strict=True)]
    votes = 0
    for (one, first), (other, second) in itertools.combinations(pairs, 2):
        at_middle = _vote(one.mid, other.mid, first.mid, second.mid)
        if at_middle:
            return at_middle > 0
        votes = _votes_at_ends(one, other, first, second)
        if votes:
            break
    return votes >= 0


def _votes_at_ends(
    one: UncertainValue, other: UncertainValue, first: UncertainValue, second: UncertainValue
) -> int:
    four = [figure.sensitivities for figure in (one, other, first, second)]
    votes = 0
    for key in dict.fromkeys(itertools.chain(*four)):
        a, b, c, d = [changes.get(key, _NONE) for changes in four]
        for side in (0, 1):
            votes += _vote(
                one.mid + a[side], other.mid + b[side], first.mid + c[side], second.mid + d[side]
            )
    return votes


def _vote(one: float, other: float, first: float, second: float) -> int:
    """Whether two figures stand as their choices do, 1, or the other way round, -1; 0 where they
    are the same.
    """
    if math.isclose(one, other, rel_tol=1e-9) or first == second:
        return 0
    return 1 if (one > other) == (first > second) else -1


# --- what can be the least ------------------------------------------------------------------------


def _winning(names: Iterable[str], figures: Figures) -> tuple[str, ...]:
    left = list(names)
    for one, other in itertools.combinations(list(left), 2):
        if one in left and other in left:
            away = _apart(figures[one], figures[other])
            if abs(away) > _SURE:
                left.remove(one if away > 0 else other)
    return tuple(left)


def _apart(one: UncertainValue, other: UncertainValue) -> float:
    """How far one figure lies above another, in spreads of their difference, to first order."""
    log = _above_nothing(one) and _above_nothing(other)
    to = FLOAT_WAYS["log" if log else "linear"][0]
    first, second = (
        dict(zip(figure.sensitivities, figure.changes(to), strict=True)) for figure in (one, other)
    )
    square = 0.0
    for key in {**first, **second}:
        (a, b), (c, d) = first.get(key, (0.0, 0.0)), second.get(key, (0.0, 0.0))
        low, high = abs(a - c), abs(b - d)
        square += low * low if low > high else high * high
    away, spread = to(one.mid) - to(other.mid), math.sqrt(square) / Z95
    return away / spread if spread > 0 else math.copysign(math.inf, away) if away else math.inf


def _above_nothing(figure: UncertainValue) -> bool:
    lowest = min(map(min, figure.sensitivities.values()), default=0.0)
    return bool(figure.mid + lowest > 0.0)
