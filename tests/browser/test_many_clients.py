"""Fifty people at once: the example page answers all of them and keeps nothing of theirs."""

from __future__ import annotations

import json
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import httpx2 as httpx
import pytest

from builders import EXAMPLES

pytestmark = [pytest.mark.browser, pytest.mark.property]

CLIENTS, TURNS = 50, 6
LOTS = [
    {"material": "oak", "mass": "40 kg", "moisture": "17 % wet", "origin": "own trees"},
    {"material": "pallet wood", "mass": "12 kg", "origin": "pallet", "signs": ["no mark"]},
]
START = """
import sys
sys.path.insert(0, sys.argv[1])
from app import app
from werkzeug.serving import make_server
make_server("127.0.0.1", int(sys.argv[2]), app, threaded=True).serve_forever()
"""


@pytest.fixture
def server() -> Iterator[tuple[str, int]]:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    folder = str(EXAMPLES / "garden_app")
    process = subprocess.Popen([sys.executable, "-c", START, folder, str(port)])
    address = f"http://127.0.0.1:{port}"
    for _ in range(200):
        try:
            httpx.get(address, timeout=5)
            break
        except httpx.HTTPError:
            time.sleep(0.1)
    yield address, process.pid
    process.terminate()
    process.wait(10)


def resident(pid: int) -> float:
    """Megabytes that a process holds."""
    lines = Path(f"/proc/{pid}/status").read_text(encoding="ascii").splitlines()
    return int(next(line for line in lines if line.startswith("VmRSS")).split()[1]) / 1024


def test_fifty_clients_at_once(server: tuple[str, int]) -> None:
    address, pid = server
    failed: list[str] = []
    answered = [0] * CLIENTS
    early: list[float] = []

    def measured() -> None:
        early.append(resident(pid))

    # all clients wait here until each has had its answer twice
    warm = threading.Barrier(CLIENTS, action=measured)

    def one(number: int) -> None:
        with httpx.Client(base_url=address, timeout=600) as client:
            heap = {"name": f"heap {number}", "lots": LOTS}
            for turn in range(TURNS):
                if turn == 2:
                    warm.wait()
                form = {"heap": json.dumps(heap), "burner": "kettle", "diameter": "80 cm"}
                got = client.post("/sheet", data={**form, "depth": "40 cm"})
                # every client gets the answer to its own heap
                if got.status_code != 200 or f"heap {number}:" not in got.text:
                    failed.append(f"{got.status_code} {got.text[:200]}")
                    warm.abort()
                    return
                answered[number] += 1

    threads = [threading.Thread(target=one, args=(number,)) for number in range(CLIENTS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    late = resident(pid)
    print(f"{sum(answered)} answers; {early} MB after two turns of each, {late:.0f} at the end")
    assert failed == []
    assert answered == [TURNS] * CLIENTS
    # what is kept of statements is bounded; a server that kept every request would grow by more
    assert late < early[0] * 1.25 + 20
