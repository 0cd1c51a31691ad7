"""`dewbook`: the command line. Each command is a module of server.commands."""

from __future__ import annotations

import argparse
import io
import pkgutil
import sys
from collections.abc import Sequence
from importlib import import_module

import server.commands
from calc import CALC_VERSION


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and gives its exit status: 0, or 2 where the input was refused."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8")  # °, ± and − whatever the locale
    parser = argparse.ArgumentParser(
        prog="dewbook", description="Field book of refrigeration and air-conditioning service"
    )
    parser.add_argument("--version", action="version", version=f"dewbook {CALC_VERSION}")
    subparsers = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for module in pkgutil.iter_modules(server.commands.__path__):
        import_module(f"server.commands.{module.name}").register(subparsers)
    chosen, rest = parser.parse_known_args(arguments)
    if rest and (not hasattr(chosen, "words") or any(word.startswith("--") for word in rest)):
        parser.error(f"unrecognized arguments: {' '.join(rest)}")
    if rest:  # a command that takes words takes them between its options too, which argparse alone does not
        chosen.words += rest
    return int(chosen.run(chosen) or 0)
