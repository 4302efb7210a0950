"""The command line."""

from .entry import main as main
