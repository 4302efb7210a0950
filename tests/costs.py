"""What a piece of work costs: by the operations that the interpreter runs, which are the same on
every machine and in every run, or as a ratio to other work of the same run. No test asserts a time
by the clock. The measure of a lot is the same physics written out by hand, `hand_chain`.
"""

from __future__ import annotations

import gc
import math
import sys
import time
from collections.abc import Callable
from cProfile import Profile
from types import FrameType
from typing import Any

import pytest

from feedstock.uncertainty import graph, joined
from feedstock.uncertainty.propagate import forget_kept


def operations(work: Callable[[], object]) -> int:
    """Bytecode instructions of all Python code that `work` runs. What happens inside a library of C
    is not in it.
    """
    monitoring: Any = getattr(sys, "monitoring", None)
    gc.disable()  # it runs code of others at moments of its own
    try:
        return _traced(work) if monitoring is None else _monitored(work, monitoring)
    finally:
        gc.enable()


def _traced(work: Callable[[], object]) -> int:
    """Until Python 3.11."""
    count = 0

    def traced(frame: FrameType, event: str, _: Any) -> Any:
        nonlocal count
        if event == "call":
            frame.f_trace_opcodes = True
            frame.f_trace_lines = False
        elif event == "opcode":
            count += 1
        return traced

    before = sys.gettrace()
    sys.settrace(traced)
    try:
        work()
    finally:
        sys.settrace(before)
    return count


def _monitored(work: Callable[[], object], monitoring: Any) -> int:
    """From Python 3.12 on, where traces miss instructions of functions that run for the first time
    (PEP 669).
    """
    count, tool, event = 0, 4, monitoring.events.INSTRUCTION

    def instruction(code: object, offset: int) -> None:
        nonlocal count
        count += 1

    monitoring.use_tool_id(tool, "costs")
    try:
        monitoring.register_callback(tool, event, instruction)
        monitoring.set_events(tool, event)
        work()
    finally:
        monitoring.set_events(tool, 0)
        monitoring.register_callback(tool, event, None)
        monitoring.free_tool_id(tool)
    return count


def calls(work: Callable[[], object]) -> int:
    """Calls of functions, those of C among them: coarser than operations, and ten times as quick to
    count. The counter is one of C: one of Python would take longer than what it counts.
    """
    counter = Profile(subcalls=False)
    gc.disable()  # it runs code of others at moments of its own
    try:
        counter.runcall(work)
    finally:
        gc.enable()
    # with those that are still open, as that of `work`
    return sum(each.callcount for each in counter.getstats())


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """The quickest of several runs, in time of the processor, which is the one least disturbed; for
    ratios within one run, with generous room, and to print.
    """
    found = []
    gc.disable()  # it walks all that other tests left
    try:
        for _ in range(times):
            start = time.process_time()
            work()
            found.append(time.process_time() - start)
    finally:
        gc.enable()
    return min(found)


def hand_chain(
    mass: float, dry: float, soil: float, basic: float, ash: float, ash_kept: float, field: float
) -> tuple[float, ...]:
    """The formulas of a weighed lot of wood in a cone pit, written out on floats: moisture, dry
    mass, density, yield by the curve and the field, char, its density and volume, carbon, water,
    heat.
    """
    wet = dry / (1.0 + dry)
    matter = mass * (1.0 - wet) * (1.0 - soil)
    curve = min(max(0.216 + 4.0 * math.exp(-0.0090 * 690.0), 0.0), 1.0)
    usual = min(max(0.216 + 4.0 * math.exp(-0.0090 * 690.0), 0.0), 1.0)
    kept = (field - ash_kept * 0.015) / ((1.0 - 0.015) * usual)
    share = ash_kept * ash + (1.0 - ash) * curve * kept
    char = matter * share
    organic = matter * (1.0 - ash) * curve * kept
    carbon = min(0.93 - 0.92 * math.exp(-0.0042 * 690.0), 1.0)
    char_carbon = organic * carbon
    volume = matter / basic
    oven_dry = basic / (1.0 - 0.265 * basic / 1000.0)
    lump = oven_dry * 0.55
    bark = 0.16 * 1.0
    char_density = 0.45 * (basic + bark * 400.0) / (basic / lump + bark / (0.60 * 1.0))
    char_volume = char / char_density
    lose = matter * max(dry - 0.25, 0.0)
    gross = 0.3491 * 49.0 + 1.1783 * 6.0 - 0.1034 * 43.0 - 0.0151 * 0.3 - 0.0211 * 100 * ash
    net = gross - 0.2122 * 6.0 - 0.0008 * (43.0 + 0.3)
    boiling = 2.443 * wet / ((1.0 - wet) * net)
    rate = -0.147 + 0.000564 * oven_dry + 1.21 * dry + 0.532 * 0.62
    through = 60.0 * max(rate * 20.0**1.23, 5.5)
    left = char_carbon / matter
    return share, char, char_carbon, volume, char_volume, lose, boiling, through, left


def compile_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every shape compiled when it is first run, as it is after some dozens of runs; nothing that
    others ran before is taken.
    """
    monkeypatch.setattr(graph, "FEW", 1)
    for kept in (graph.compiled, graph.outputs_function, joined._program):
        kept.cache_clear()
    forget_kept()
