"""Runs a command and returns the exit status.

Exit status: 0 done; 1 done and something is not ready (only with --strict); 2 the input is
wrong."""

from __future__ import annotations

import json
import os
import re
import sys
from collections.abc import Sequence

from ..errors import FeedstockError
from .parser import _parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return the exit status."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    parser = _parser()
    given = parser.parse_args(arguments)
    try:
        text, status = given.run(given)
        sys.stdout.write(_plain_json(text) if getattr(given, "json", False) else text)
        sys.stdout.flush()
    except FeedstockError as why:
        sys.stderr.write(_told(why))
        return 2
    except BrokenPipeError:
        # the reader has gone; what it did not want is not an error
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        return 130
    return int(status)


def _plain_json(text: str) -> str:
    """JSON in ASCII alone: a stream that replaces what it cannot show would change the names in
    it.
    """
    return re.sub(r"[^\x00-\x7f]", lambda sign: json.dumps(sign[0])[1:-1], text)


def _told(why: FeedstockError) -> str:
    count = len(why.problems) + why.left_out
    head = f"feedstock: {count} thing{'s' if count != 1 else ''} to fix; nothing was done\n"
    return head + "".join(f"  {line}\n" for line in str(why).split("\n"))
