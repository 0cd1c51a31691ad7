"""`dewbook serve`: the office program on this machine."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

REFUSED = 2
_THREADS = 8


def register(subparsers: Any) -> None:
    """Adds the command."""
    parser = subparsers.add_parser("serve", help="serve the desk, the Board and the sync door")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on (this machine only by default)")
    parser.add_argument("--port", type=int, default=8427, help="port to listen on")
    parser.add_argument("--workers", type=int, default=2, help="processes that answer")
    parser.add_argument("--tls", action="store_true", help="https by a certificate made here, for a trial on a phone")
    parser.add_argument("--dev", action="store_true", help="one process that starts again when the program changes")
    parser.set_defaults(run=_serve)


def _serve(options: argparse.Namespace) -> int:
    try:
        from server.app import create_app
        from server.db import Database
        from server.office import rebuild
        from server.settings import BadSetting, Settings
    except ModuleNotFoundError as missing:
        sys.stderr.write(f"{missing.name} is not installed; `pip install 'dewbook[server]'` brings what serve needs.\n")
        return REFUSED
    try:
        settings = Settings.from_environment()
        settings.check()
    except BadSetting as bad:
        sys.stderr.write(f"{bad}\n")
        return REFUSED
    database = Database(settings.database_url)
    database.upgrade()
    rebuild(database)
    database.close()
    tls = _tls(settings.data_folder / "tls", options.host) if options.tls else None
    sys.stdout.write(f"Dewbook: {'https' if tls else 'http'}://{options.host}:{options.port}/\n")
    sys.stdout.flush()
    if options.dev:
        context = (str(tls[0]), str(tls[1])) if tls else None
        create_app(settings).run(options.host, options.port, debug=True, use_debugger=False, ssl_context=context)
    else:
        _gunicorn(settings, options, tls)
    return 0


def _tls(folder: Path, host: str) -> tuple[Path, Path]:
    from server.certificate import prepare, reachable_addresses

    certificate, key, authority, fingerprint = prepare(folder, host)
    sys.stdout.write(
        f"For a trial on a phone, trust the certificate {authority} on it (its settings call it a CA certificate).\n"
        f"Its SHA-256 fingerprint: {fingerprint}\n"
        f"Remove it from the phone when the trial is over. Addresses here: {', '.join(reachable_addresses()) or host}\n"
    )
    return certificate, key


def _gunicorn(settings: Any, options: argparse.Namespace, tls: tuple[Path, Path] | None) -> None:
    from gunicorn.app.base import BaseApplication

    from server.app import create_app

    class Office(BaseApplication):  # type: ignore[misc]
        """gunicorn, set up here; each process builds its own application and opens its own connections."""

        def load_config(self) -> None:
            own = {
                "bind": f"{options.host}:{options.port}",
                "workers": options.workers,
                "worker_class": "gthread",
                "threads": _THREADS,
                "accesslog": None,
                "loglevel": "warning",
            }
            if tls:
                own |= {"certfile": str(tls[0]), "keyfile": str(tls[1])}
            for name, value in own.items():
                self.cfg.set(name, value)

        def load(self) -> Any:
            return create_app(settings)

    Office().run()
