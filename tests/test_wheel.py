"""What is installed is whole: the wheel, unpacked alone, works out a figure and serves desk and browser files."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The environment of a program that finds the wheel's packages before any other of those names."""
    folder = tmp_path_factory.mktemp("wheel")
    pip = [sys.executable, "-m", "pip"]
    shutil.rmtree(ROOT / "build" / "lib", ignore_errors=True)  # setuptools would pack what was deleted since
    subprocess.run([*pip, "wheel", "-q", "--no-deps", "-w", str(folder), str(ROOT)], check=True, capture_output=True)
    (wheel,) = folder.glob("dewbook-*.whl")
    subprocess.run(
        [*pip, "install", "-q", "--no-deps", "--target", str(folder / "site"), str(wheel)],
        check=True,
        capture_output=True,
    )
    return {**os.environ, "PYTHONPATH": str(folder / "site"), "DEWBOOK_DATABASE": str(folder / "office.sqlite")}


def test_a_figure_from_the_installed_wheel(installed: dict[str, str], tmp_path: Path) -> None:
    python = [sys.executable, "-c", "import calc; print(calc.__file__)"]
    where = subprocess.run(python, cwd=tmp_path, env=installed, check=True, capture_output=True, text=True).stdout
    assert where.startswith(installed["PYTHONPATH"])
    work = [sys.executable, "-m", "server", "work", "saturation", "refrigerant=R-32", "temperature=5 C", "--json"]
    done = subprocess.run(work, cwd=tmp_path, env=installed, check=True, capture_output=True, text=True)
    assert json.loads(done.stdout)["ok"] is True


def test_the_installed_wheel_serves_desk_and_browser_files(installed: dict[str, str], tmp_path: Path) -> None:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    with (tmp_path / "log").open("wb") as log:
        serving = subprocess.Popen(
            [sys.executable, "-m", "server", "serve", "--port", str(port), "--workers", "1"],
            cwd=tmp_path, env=installed, stdout=log, stderr=log, start_new_session=True,
        )  # fmt: skip
    address = f"http://127.0.0.1:{port}"
    try:
        for _ in range(200):
            with contextlib.suppress(OSError), urllib.request.urlopen(f"{address}/healthz", timeout=2):
                break
            assert serving.poll() is None, (tmp_path / "log").read_text()
            time.sleep(0.1)
        with urllib.request.urlopen(f"{address}/static/gen/manifest.json") as answer:
            manifest = json.load(answer)
        for path in ("/sign-in", "/service-worker.js", "/manifest.webmanifest", "/shell"):
            with urllib.request.urlopen(address + path) as answer:
                assert answer.status == 200, path
        names = [one["file"] for one in manifest["files"]]
        assert any(name.endswith(".wasm") for name in names)
        for name in names:
            with urllib.request.urlopen(f"{address}/static/gen/{name}") as answer:
                assert answer.status == 200, name
    finally:
        os.killpg(serving.pid, signal.SIGKILL)
        serving.wait()
