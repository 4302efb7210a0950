"""What several test files share: the command line, run in this process."""

from __future__ import annotations

import pytest

from builders import RunCli
from feedstock.cli.entry import main


@pytest.fixture
def run_cli(capsys: pytest.CaptureFixture[str]) -> RunCli:
    """`run_cli("appraise", path)` gives the exit status, standard output and standard error."""

    def run(*arguments: object) -> tuple[int, str, str]:
        capsys.readouterr()
        try:
            status = main([str(each) for each in arguments])
        except SystemExit as leaving:  # argparse leaves by itself
            status = int(leaving.code or 0)
        return (status, *capsys.readouterr())

    return run
