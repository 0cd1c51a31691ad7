"""`dewbook serve` as a process: http for this machine, https with a certificate that its own authority vouches for."""

from __future__ import annotations

import json
import os
import socket
import ssl
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def serving(folder: Path, *options: str) -> Iterator[tuple[int, subprocess.Popen[str]]]:
    port = free_port()
    command = [sys.executable, "-m", "server", "serve", "--port", str(port), "--workers", "1", *options]
    environment = {**os.environ, "DEWBOOK_DATA": str(folder)}
    environment.pop("DEWBOOK_DATABASE", None)
    with subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, text=True) as process:
        try:
            yield port, process
        finally:
            process.terminate()
            process.wait(30)


def asked(address: str, context: ssl.SSLContext | None = None) -> dict[str, object]:
    for _ in range(150):
        try:
            with urllib.request.urlopen(address, timeout=5, context=context) as answer:
                found: dict[str, object] = json.load(answer)
                return found
        except ConnectionError:
            pass
        except urllib.error.URLError as refused:
            if not isinstance(refused.reason, ConnectionError):
                raise
        time.sleep(0.2)
    raise AssertionError(f"{address} never answered")


def test_it_makes_its_database_and_answers(tmp_path: Path) -> None:
    with serving(tmp_path / "data") as (port, process):
        assert asked(f"http://127.0.0.1:{port}/healthz") == {"ok": True}
        assert (tmp_path / "data" / "dewbook.sqlite").is_file()
        assert process.stdout is not None
        assert process.stdout.readline() == f"Dewbook: http://127.0.0.1:{port}/\n"


def test_https_is_vouched_for_by_an_authority_made_here_and_kept(tmp_path: Path) -> None:
    authority = tmp_path / "tls" / "authority.pem"
    vouched = []
    for _ in range(2):
        with serving(tmp_path, "--tls") as (port, process):
            assert process.stdout is not None
            told = process.stdout.readline() + process.stdout.readline()
            assert str(authority) in told
            assert asked(f"https://127.0.0.1:{port}/healthz", ssl.create_default_context(cafile=str(authority)))["ok"]
            vouched.append(authority.read_bytes())
            with pytest.raises(urllib.error.URLError, match="CERTIFICATE_VERIFY_FAILED"):
                asked(f"https://127.0.0.1:{port}/healthz", ssl.create_default_context())
    assert vouched[0] == vouched[1]
    for name in ("authority.key", "server.key"):
        assert (tmp_path / "tls" / name).stat().st_mode & 0o077 == 0


def test_a_setting_that_cannot_be_stops_it_before_anything_is_opened(tmp_path: Path) -> None:
    environment = {**os.environ, "DEWBOOK_DATA": str(tmp_path / "data"), "DEWBOOK_SESSION_DAYS": "never"}
    command = [sys.executable, "-m", "server", "serve"]
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 2
    assert "DEWBOOK_SESSION_DAYS is 'never'" in done.stderr
    assert not (tmp_path / "data").exists()


def test_importing_the_server_opens_nothing(tmp_path: Path) -> None:
    script = "import server.app, server.office, os, sys; sys.exit(len(os.listdir('.')))"
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1"}
    assert subprocess.run([sys.executable, "-c", script], cwd=tmp_path, env=environment, check=False).returncode == 0
