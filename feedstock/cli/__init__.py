"""The command line."""

import gc


def main() -> int:
    """The command as a process of its own, which ends before what it holds could be worth sorting:
    cycles are looked for seldom, and not once more at the end.
    """
    from .entry import main as run

    gc.set_threshold(100_000, 50, 100)
    status = run()
    gc.freeze()
    return status
