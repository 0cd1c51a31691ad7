"""`dewbook person add`: who may sign in."""

from __future__ import annotations

import argparse
import getpass
import sys
from typing import Any

REFUSED = 2


def register(subparsers: Any) -> None:
    """Adds the command."""
    parser = subparsers.add_parser("person", help="people who may sign in")
    acts = parser.add_subparsers(title="acts", metavar="ACT", required=True)
    add = acts.add_parser("add", help="add a person; the password is asked for, or read from standard input")
    add.add_argument("sign_in", metavar="SIGN_IN_NAME", help="name typed at sign-in")
    add.add_argument("--name", required=True, help="name as colleagues know it")
    add.add_argument("--company", required=True, help="name of the firm; made where there is none of that name")
    add.add_argument("--role", choices=("technician", "supervisor"), default="technician")
    add.set_defaults(run=_add)


def _add(options: argparse.Namespace) -> int:
    from server.accounts import BadAccount
    from server.db import Database
    from server.office import create_company, create_person
    from server.settings import Settings

    asks = sys.stdin.isatty()
    secret = getpass.getpass("Password: ") if asks else sys.stdin.readline().rstrip("\r\n")
    database = Database(Settings.from_environment().database_url)
    database.upgrade()
    try:
        company = create_company(database, options.company)
        person = create_person(database, company, options.sign_in, options.name, options.role, secret)
    except BadAccount as bad:
        sys.stderr.write(f"Nobody was added: {bad}.\n")
        return REFUSED
    sys.stdout.write(f"{person.name} ({person.role}) of {person.company_name} can sign in now.\n")
    return 0
