"""`dewbook demo`: fill an empty database with the invented record of the demo."""

from __future__ import annotations

import argparse
import sys
from typing import Any

REFUSED = 2


def register(subparsers: Any) -> None:
    """Adds the command."""
    parser = subparsers.add_parser("demo", help="fill an empty database with the demo: invented people, places, visits")
    parser.set_defaults(run=_demo)


def _demo(options: argparse.Namespace) -> int:
    from server.db import Database
    from server.demo.play import OthersHere, play
    from server.demo.scenario import FIRM, PASSWORD, PEOPLE
    from server.settings import Settings

    settings = Settings.from_environment()
    try:
        made = play(Database(settings.database_url))
    except OthersHere as others:
        sys.stderr.write(
            f"The demo's passwords are public, so it goes into a database of its own; this one has: {others}.\n"
            "Set DEWBOOK_DATABASE to a file that is not there yet.\n"
        )
        return REFUSED
    sys.stdout.write(f"{FIRM}: {'made' if made else 'there already'}. All of it is invented.\n")
    for one in PEOPLE:
        sys.stdout.write(f"  sign in as {one.sign_in:<8} password {PASSWORD}   {one.name}, {one.role}\n")
    return 0
