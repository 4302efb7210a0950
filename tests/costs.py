"""What a piece of work costs: by the operations that the interpreter runs, which are the same on
every machine and in every run, or as a ratio to other work of the same run. No test asserts a time
by the clock.
"""

from __future__ import annotations

import gc
import sys
import time
from collections.abc import Callable
from types import FrameType
from typing import Any


def operations(work: Callable[[], object]) -> int:
    """Bytecode instructions of all Python code that `work` runs. What happens inside a library of C
    is not in it.
    """
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
    gc.disable()  # it runs code of others at moments of its own
    sys.settrace(traced)
    try:
        work()
    finally:
        sys.settrace(before)
        gc.enable()
    return count


def calls(work: Callable[[], object]) -> int:
    """Calls of functions, those of C among them: coarser than operations, and ten times as quick to
    count.
    """
    count = 0

    def counted(frame: FrameType, event: str, _: Any) -> None:
        nonlocal count
        if event in ("call", "c_call"):
            count += 1

    before = sys.getprofile()
    gc.disable()  # it runs code of others at moments of its own
    sys.setprofile(counted)
    try:
        work()
    finally:
        sys.setprofile(before)
        gc.enable()
    return count


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """The quickest of several runs, in time of the processor, which is the one least disturbed; for
    ratios within one run, with generous room, and to print.
    """
    found = []
    gc.collect()
    gc.freeze()
    try:
        for _ in range(times):
            start = time.process_time()
            work()
            found.append(time.process_time() - start)
    finally:
        gc.unfreeze()
    return min(found)
