"""The two ends of a visit: an office (a real server process that can be killed) and a phone (a real Chromium whose
profile outlives it)."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, expect, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PASSWORD = "harrow-vale-demo"
expect.set_options(timeout=20_000)


def chromium() -> str:
    """Where the browser is; a missing one is a failure, never a skip."""
    sys.path.insert(0, str(ROOT))
    from tests.browser_present import find

    path = find()
    assert path, "no Chromium here: `make browser` says how to get one"
    return path


class Office:
    """The server as its own process, on one port and one database for its whole life."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.url = f"http://127.0.0.1:{self.port}"
        self._environment = {**os.environ, "DEWBOOK_DATABASE": str(folder / "office.sqlite")}
        self._process: subprocess.Popen[bytes] | None = None

    def dewbook(self, *words: str) -> str:
        done = subprocess.run(
            [sys.executable, "-m", "server", *words],
            cwd=ROOT, env=self._environment, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return done.stdout

    def start(self) -> None:
        log = (self.folder / "office.log").open("ab")
        self._process = subprocess.Popen(
            [sys.executable, "-m", "server", "serve", "--port", str(self.port)],
            cwd=ROOT, env=self._environment, stdout=log, stderr=log, start_new_session=True,
        )  # fmt: skip
        for _ in range(300):
            with contextlib.suppress(OSError), urllib.request.urlopen(f"{self.url}/healthz", timeout=2) as answer:
                if answer.status == 200:
                    return
            assert self._process.poll() is None, (self.folder / "office.log").read_text()
            time.sleep(0.1)
        raise AssertionError((self.folder / "office.log").read_text())

    def kill(self) -> None:
        """SIGKILL to the server and its workers: off means off."""
        if self._process is not None:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait()
            self._process = None


class Phone:
    """A browser with a profile that stays when the browser is killed."""

    def __init__(self, playwright: Playwright, profile: Path, office: Office, **options: object) -> None:
        self._playwright, self._profile, self._office = playwright, profile, office
        self._options = {"viewport": {"width": 360, "height": 740}, **options}
        self.context: BrowserContext | None = None
        self.complaints: list[str] = []

    def open(self, path: str = "/") -> Page:
        if self.context is None:
            self.context = self._playwright.chromium.launch_persistent_context(
                str(self._profile), executable_path=chromium(), args=FLAGS, **self._options
            )
        page = self.context.pages[0] if self.context.pages else self.context.new_page()
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", self._console)
        page.goto(self._office.url + path)
        return page

    def _console(self, message: object) -> None:
        if "Content Security Policy" in message.text:
            self.complaints.append(message.text)

    def sign_in(self, name: str) -> Page:
        page = self.open("/sign-in")
        page.get_by_label("Name").fill(name)
        page.get_by_label("Password").fill(PASSWORD)
        page.get_by_role("button", name="Sign in").click()
        return page

    def kill(self) -> None:
        """End every process of this browser at once, as a phone does that runs out of battery."""
        marker = f"--user-data-dir={self._profile}".encode()
        for entry in Path("/proc").iterdir():
            if entry.name.isdigit():
                with contextlib.suppress(OSError):
                    if marker in (entry / "cmdline").read_bytes().split(b"\0"):
                        os.kill(int(entry.name), signal.SIGKILL)
        with contextlib.suppress(Exception):
            self.context.close()
        self.context = None

    def close(self) -> None:
        if self.context is not None:
            with contextlib.suppress(Exception):
                self.context.close()
            self.context = None


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as running:
        yield running


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """An office with the demo record, running."""
    made = Office(tmp_path)
    made.dewbook("demo")
    made.start()
    yield made
    made.kill()


@pytest.fixture
def phone(playwright: Playwright, tmp_path: Path, office: Office) -> Iterator[Phone]:
    made = Phone(playwright, tmp_path / "phone", office)
    yield made
    made.close()
    assert not made.complaints


@pytest.fixture
def desk(playwright: Playwright, tmp_path: Path, office: Office) -> Iterator[Phone]:
    """The supervisor's computer."""
    made = Phone(playwright, tmp_path / "desk", office, viewport={"width": 1280, "height": 800})
    yield made
    made.close()
    assert not made.complaints
