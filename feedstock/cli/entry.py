"""Runs a command and returns the exit status.

Exit status: 0 done; 1 done and something is not ready (only with --strict); 2 the input is
wrong, or the answer could not be written."""

from __future__ import annotations

import contextlib
import errno
import json
import os
import re
import sys
from collections.abc import Sequence
from typing import TextIO

from ..errors import FeedstockError, without_controls
from .names import by_option
from .parser import made_parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return the exit status."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    args = made_parser().parse_args(arguments)
    try:
        text, status = args.run(args)
    except FeedstockError as why:
        _complain(_error_text(by_option(why, args.command)))
        return 2
    except KeyboardInterrupt:
        return 130
    return _answered(_plain_json(text) if getattr(args, "json", False) else text, int(status))


def _answered(text: str, status: int) -> int:
    """Write the answer; the exit status, 2 where it cannot be written."""
    try:
        if sys.stdout is None:
            raise OSError(errno.EBADF, "standard output is closed")
        sys.stdout.write(without_controls(text, keep="\n\t"))
        sys.stdout.flush()
    except BrokenPipeError:
        # the reader has gone; what it did not want is not an error
        _give_up(sys.stdout)
    except KeyboardInterrupt:
        return 130
    except OSError as why:
        _give_up(sys.stdout)
        _complain(f"feedstock: the answer could not be written ({why.strerror or why})\n")
        return 2
    return status


def _complain(text: str) -> None:
    """Write to standard error, where there is one."""
    try:
        if sys.stderr is not None:
            sys.stderr.write(without_controls(text, keep="\n"))
            sys.stderr.flush()
    except OSError:
        _give_up(sys.stderr)


def _give_up(stream: TextIO | None) -> None:
    """Let what a stream still holds go nowhere: Python writes it once more when it ends."""
    with contextlib.suppress(OSError, ValueError):
        if stream is not None:
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _plain_json(text: str) -> str:
    """JSON in ASCII alone: a stream that replaces what it cannot show would change the names in
    it.
    """
    return re.sub(r"[^\x00-\x7f]", lambda sign: json.dumps(sign[0])[1:-1], text)


def _error_text(why: FeedstockError) -> str:
    count = len(why.problems) + why.left_out
    head = f"feedstock: {count} thing{'s' if count != 1 else ''} to fix; nothing was done\n"
    return head + "".join(f"  {line}\n" for line in str(why).split("\n"))
