"""`dewbook`: the command line. Each command is a module of server.commands."""

from __future__ import annotations

import argparse
import pkgutil
from collections.abc import Sequence
from importlib import import_module

import server.commands
from calc import CALC_VERSION


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and gives its exit status: 0, or 2 where the input was refused."""
    parser = argparse.ArgumentParser(
        prog="dewbook", description="Field book of refrigeration and air-conditioning service"
    )
    parser.add_argument("--version", action="version", version=f"dewbook {CALC_VERSION}")
    subparsers = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for module in pkgutil.iter_modules(server.commands.__path__):
        import_module(f"server.commands.{module.name}").register(subparsers)
    chosen = parser.parse_args(arguments)
    return int(chosen.run(chosen) or 0)
