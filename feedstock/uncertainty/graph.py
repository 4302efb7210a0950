"""The graph of steps, run as it stands, and where a shape comes often compiled to straight-line
functions that are kept for the process.

The shape is the functions, which input goes where, and which inputs share a key: nothing of a lot's
values. In the source that is generated every name is a number, so no word of a table or a user ever
stands in it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from functools import lru_cache
from operator import itemgetter
from typing import Any, NamedTuple

from ..quantities.cell import Scale
from ..quantities.frozen import frozen
from .inputs import Input, Number


class Step(NamedTuple):
    """`output = function(*inputs)`; `scale` is the one on which the output's doubts are
    combined.
    """

    output: str
    function: Callable[..., Any]
    inputs: tuple[str, ...]
    scale: Scale = "log"


Chain = tuple[Step, ...]


@lru_cache(maxsize=512)
def downstream(chain: Chain) -> dict[str, tuple[int, ...]]:
    """For every name, the steps that depend on it, in order."""
    found: dict[str, set[int]] = {}
    for index in range(len(chain) - 1, -1, -1):
        step = chain[index]
        behind = {index} | found.get(step.output, set())
        for name in step.inputs:
            found.setdefault(name, set()).update(behind)
    return {name: tuple(sorted(steps)) for name, steps in found.items()}


def run(chain: Sequence[Step], values: Mapping[str, Number]) -> dict[str, Number]:
    """All values of a chain for given values of its inputs.

    Raises KeyError for an input that is missing.
    """
    found = dict(values)
    for step in chain:
        found[step.output] = step.function(*[found[name] for name in step.inputs])
    return found


def upstream(chain: Sequence[Step], output: str) -> set[str]:
    """Every name that an output is made of, itself included."""
    needed = {output}
    for step in reversed(chain):
        if step.output in needed:
            needed.update(step.inputs)
    return needed


Values = Sequence[Number]
Perturbed = tuple[tuple[Number, ...], tuple[Number, ...]]
"""The wanted outputs that a key reaches, with the key at its low and at its high end."""
PerturbationsFunction = Callable[
    [Values, Values, Values], tuple[tuple[Number, ...], tuple[Perturbed, ...]]
]

OutputsFunction = Callable[[Values], tuple[Number, ...]]
"""Some outputs of a chain, from the values of its inputs."""

EXACT = -1
"""The number of the key of an input without doubt."""


@frozen
class Program:
    """A compiled chain. `positions` are those of its inputs among all that were given, `members`
    has for each key the numbers of its inputs, `reached` which of the wanted outputs it reaches.

    There is one of each shape in the process, so that it stands for the shape where ends are kept.
    """

    wanted: tuple[str, ...]
    scales: tuple[Scale | None, ...]
    positions: tuple[int, ...]
    members: tuple[tuple[int, ...], ...]
    reached: tuple[tuple[int, ...], ...]
    perturbations: PerturbationsFunction
    steps: tuple[Step, ...]
    names: tuple[str, ...]
    _functions: dict[tuple[str, ...], OutputsFunction] = field(default_factory=dict)

    __eq__ = object.__eq__
    __hash__ = object.__hash__

    def middle(self, values: Values) -> tuple[Number, ...]:
        """All wanted outputs for values of the inputs."""
        return self._function(self.wanted)(values)

    def value(self, output: int, values: Values) -> Number:
        """A wanted output, by number, for values of the inputs."""
        return self._function((self.wanted[output],))(values)[0]

    def _function(self, wanted: tuple[str, ...]) -> OutputsFunction:
        known = self._functions.get(wanted)
        if known is None:
            known = self._functions[wanted] = outputs_function(self.steps, self.names, wanted)
        return known


def key_numbers(inputs: Sequence[Input]) -> tuple[tuple[int, ...], tuple[str, ...]]:
    """For every input the number of its key, and the keys by number; `EXACT` for one without doubt.

    >>> from .inputs import assumed_input
    >>> key_numbers([assumed_input("decay", 1.0, "sound")])
    ((-1,), ())
    """
    numbers: dict[str, int] = {}
    found = [
        EXACT if entry.exact else numbers.setdefault(entry.key, len(numbers)) for entry in inputs
    ]
    return tuple(found), tuple(numbers)


@lru_cache(maxsize=1024)
def compiled(
    chain: Chain, names: tuple[str, ...], keys: tuple[int, ...], wanted: tuple[str, ...]
) -> Program:
    """The program of a chain for the wanted outputs.

    `names` are those of the inputs, `keys` the numbers of their keys. What no wanted output rests
    on is left out.
    """
    steps = needed_steps(chain, wanted)
    needed = {*wanted, *(name for step in steps for name in step.inputs)}
    made = {step.output for step in steps}
    used = [n for n, name in enumerate(names) if name in needed and name not in made]
    used_names, used_keys = tuple(names[n] for n in used), tuple(keys[n] for n in used)
    members = tuple(
        tuple(n for n, key in enumerate(used_keys) if key == number)
        for number in range(max(used_keys, default=EXACT) + 1)
    )
    moving = tuple(tuple((n, n) for n in places) for places in members)
    reached, perturbations = perturbations_function(steps, used_names, moving, wanted)
    scales: dict[str, Scale] = {step.output: step.scale for step in chain}
    return Program(
        wanted,
        tuple(scales.get(name) for name in wanted),
        tuple(used),
        members,
        reached,
        perturbations,
        steps,
        used_names,
    )


def needed_steps(chain: Chain, wanted: Sequence[str]) -> Chain:
    """The steps on which the wanted outputs rest."""
    needed = set(wanted)
    for step in reversed(chain):
        if step.output in needed:
            needed.update(step.inputs)
    return tuple(step for step in chain if step.output in needed)


def _places(steps: Sequence[Step], names: Sequence[str]) -> dict[str, str]:
    """The numbered variable of every input and every step."""
    found = {name: f"x{n}" for n, name in enumerate(names)}
    found.update((step.output, f"s{n}") for n, step in enumerate(steps))
    return found


def _functions(steps: Sequence[Step]) -> dict[str, Any]:
    return {f"f{n}": step.function for n, step in enumerate(steps)}


def _tuple(items: Sequence[str]) -> str:
    return f"({''.join(item + ',' for item in items)})"


def _function(lines: Sequence[str], space: dict[str, Any]) -> Any:
    exec(compile("\n".join(lines), "<chain>", "exec"), space)
    return space["run"]


Members = tuple[tuple[tuple[int, int], ...], ...]
"""For every key the inputs that move with it, by number, and where the values of its ends stand."""


FEW = 32
"""So many runs of a shape go step by step: compiling it costs what a hundred of them save."""


class _Grown:
    """A function of a shape that is run step by step while few have asked, and compiled then; both
    call the same functions with the same values in the same order.
    """

    __slots__ = ("_compile", "_left", "_run")

    def __init__(self, by_step: Callable[..., Any], compile_it: Callable[[], Any]) -> None:
        self._run, self._compile, self._left = by_step, compile_it, FEW

    def __call__(self, *values: Values) -> Any:
        if self._left > 0:
            self._left -= 1
            if self._left == 0:
                self._run = self._compile()
        return self._run(*values)


class _Slots:
    """Where the value of every name stands in a list, and the steps by these places."""

    def __init__(self, steps: Sequence[Step], names: Sequence[str]) -> None:
        # the steps first: what else a caller gives behind its inputs is in nobody's way
        self.of = {name: len(steps) + n for n, name in enumerate(names)}
        self.of.update((step.output, n) for n, step in enumerate(steps))
        self.room = [0.0] * len(steps)
        self.calls = [
            (step.function, _picker([self.of[name] for name in step.inputs]), self.of[step.output])
            for step in steps
        ]

    def filled(self, values: Values) -> list[Number]:
        filled: list[Number] = [*self.room, *values]
        for function, inputs, output in self.calls:
            filled[output] = function(*inputs(filled))
        return filled


def _picker(places: Sequence[int]) -> Callable[[list[Number]], Sequence[Number]]:
    """What takes the values at these places out of a list: half as dear as a loop over them."""
    if len(places) > 1:
        return itemgetter(*places)
    # of one place alone it would give the bare value
    return itemgetter(slice(places[0], places[0] + 1) if places else slice(0))


def perturbations_function(
    steps: Chain, names: tuple[str, ...], members: Members, wanted: tuple[str, ...]
) -> tuple[tuple[tuple[int, ...], ...], PerturbationsFunction]:
    """The wanted outputs that each key reaches, and the function that gives all wanted outputs at
    the middle and with each key at its low and its high end.
    """
    steps = needed_steps(steps, wanted)
    after = downstream(steps)
    reruns = [
        sorted({index for n, _ in moving for index in after.get(names[n], ())})
        for moving in members
    ]
    moved = [
        {names[n] for n, _ in moving} | {steps[index].output for index in rerun}
        for moving, rerun in zip(members, reruns, strict=True)
    ]
    reached = tuple(tuple(n for n, name in enumerate(wanted) if name in each) for each in moved)
    slots = _Slots(steps, names)
    outputs = [slots.of[name] for name in wanted]
    results = _picker(outputs)
    keys = [
        (
            [(slots.of[names[n]], end) for n, end in moving],
            [slots.calls[index] for index in rerun],
            _picker([outputs[n] for n in hit]),
        )
        for moving, rerun, hit in zip(members, reruns, reached, strict=True)
    ]

    def by_step(values: Values, low: Values, high: Values) -> Any:
        middle = slots.filled(values)
        sides = [_moved(middle, key, low, high) for key in keys]
        return tuple(results(middle)), tuple(sides)

    def compile_it() -> PerturbationsFunction:
        return _perturbations_compiled(steps, names, members, wanted, reruns, reached)

    return reached, _Grown(by_step, compile_it)


def _moved(middle: list[Number], key: Any, low: Values, high: Values) -> Perturbed:
    """What a key reaches with its members at their low and at their high ends."""
    moving, rerun, hit = key
    for place, end in moving:
        if not low[end] is middle[place] is high[end]:
            break
    else:  # it rests where it is, as all do for which nobody asks half way to their ends
        return (same := tuple(hit(middle))), same
    below, above = middle.copy(), middle.copy()
    for place, end in moving:
        below[place], above[place] = low[end], high[end]
    for function, inputs, output in rerun:
        below[output], above[output] = function(*inputs(below)), function(*inputs(above))
    return tuple(hit(below)), tuple(hit(above))


def _perturbations_compiled(
    steps: Chain,
    names: tuple[str, ...],
    members: Members,
    wanted: tuple[str, ...],
    reruns: Sequence[Sequence[int]],
    reached: Sequence[Sequence[int]],
) -> PerturbationsFunction:
    place = _places(steps, names)
    lines = ["def run(v,low,high):"]
    if names:
        lines.append(f"  {_tuple([place[name] for name in names])}=v")
    lines += [_call(n, step, place, place[step.output]) for n, step in enumerate(steps)]
    results = []
    for number, (moving, rerun, hit) in enumerate(zip(members, reruns, reached, strict=True)):
        sides = []
        for side, mark in (("low", "a"), ("high", "b")):
            lines += _rerun(side, moving, rerun, steps, names, place)
            shadow = {names[n]: f"y{n}" for n, _ in moving}
            shadow.update((steps[index].output, f"z{index}") for index in rerun)
            lines.append(f"  {mark}{number}={_tuple([shadow[wanted[n]] for n in hit])}")
            sides.append(f"{mark}{number}")
        results.append(_tuple(sides))
    lines.append(f"  return {_tuple([place[name] for name in wanted])},{_tuple(results)}")
    run: PerturbationsFunction = _function(lines, _functions(steps))
    return run


def _call(number: int, step: Step, place: Mapping[str, str], variable: str) -> str:
    return f"  {variable}=f{number}({','.join(place[name] for name in step.inputs)})"


def _rerun(
    side: str,
    members: Sequence[tuple[int, int]],
    rerun: Sequence[int],
    steps: Sequence[Step],
    names: Sequence[str],
    place: Mapping[str, str],
) -> list[str]:
    """The lines that run what is behind the members of a key again, with them at one end."""
    shadow = dict(place)
    lines = []
    for n, slot in members:
        shadow[names[n]] = f"y{n}"
        lines.append(f"  y{n}={side}[{slot}]")
    for index in rerun:
        lines.append(_call(index, steps[index], shadow, f"z{index}"))
        shadow[steps[index].output] = f"z{index}"
    return lines


@lru_cache(maxsize=256)
def outputs_function(
    chain: Chain, names: tuple[str, ...], wanted: tuple[str, ...]
) -> OutputsFunction:
    """The wanted outputs of a chain as one function of the values of its inputs."""
    steps = needed_steps(chain, wanted)
    slots = _Slots(steps, names)
    results = _picker([slots.of[name] for name in wanted])

    def by_step(values: Values) -> tuple[Number, ...]:
        return tuple(results(slots.filled(values)))

    return _Grown(by_step, lambda: _outputs_compiled(steps, names, wanted))


def _outputs_compiled(
    steps: Chain, names: tuple[str, ...], wanted: tuple[str, ...]
) -> OutputsFunction:
    needed = {*wanted, *(name for step in steps for name in step.inputs)}
    place = _places(steps, names)
    lines = ["def run(v):"]
    lines += [f"  x{n}=v[{n}]" for n, name in enumerate(names) if name in needed]
    lines += [_call(n, step, place, place[step.output]) for n, step in enumerate(steps)]
    lines.append(f"  return {_tuple([place[name] for name in wanted])}")
    run: OutputsFunction = _function(lines, _functions(steps))
    return run
