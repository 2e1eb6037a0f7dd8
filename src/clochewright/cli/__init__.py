"""The command line."""

from clochewright.cli.app import main

__all__ = ["main"]
