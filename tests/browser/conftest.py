"""An office that can be killed, a line that can fail, and phones whose profile outlives their browser."""

from __future__ import annotations

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, expect

from tests import one_playwright
from tests.browser_present import find
from tests.faults import Line

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
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
VIOLATED = "policy violated:"
# in every page before its own scripts
WATCH_POLICY = (
    "document.addEventListener('securitypolicyviolation', (event) => console.error("
    f"'{VIOLATED}', event.effectiveDirective, event.blockedURI, event.sourceFile, event.lineNumber));"
)
expect.set_options(timeout=20_000)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(HERE):
            item.add_marker("browser")


class Office:
    """The server as a process of its own, on one port and one database for its whole life."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.root = ROOT
        self.url = f"http://127.0.0.1:{self.port}"
        self._process: subprocess.Popen[bytes] | None = None

    def command(self) -> tuple[list[str], dict[str, str]]:
        """The command that serves, and its environment."""
        return [sys.executable, str(self.root / "tests/browser/office.py"), str(self.port), str(self.folder)], dict(
            os.environ
        )

    def start(self, root: Path = ROOT) -> None:
        """Run the program of a folder: this repository, or a copy of it that was changed."""
        self.root = root
        command, environment = self.command()
        with (self.folder / "office.log").open("ab") as log:
            self._process = subprocess.Popen(
                command, env=environment, stdout=log, stderr=log, start_new_session=True, cwd=self.root
            )
        for _ in range(300):
            with contextlib.suppress(OSError), urllib.request.urlopen(f"{self.url}/healthz", timeout=2) as answer:
                assert answer.status == 200
                return
            assert self._process.poll() is None, self.log()
            time.sleep(0.1)
        raise AssertionError(self.log())

    def log(self) -> str:
        return (self.folder / "office.log").read_text("utf-8")

    def kill(self) -> None:
        """SIGKILL to the server and its workers: off means off."""
        if self._process is not None:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait()
            self._process = None


class Phone:
    """A browser with a profile that stays when the browser is killed."""

    def __init__(self, playwright: Playwright, profile: Path, line: Line, flags: tuple[str, ...] = ()) -> None:
        self._playwright, self._profile, self.line, self._flags = playwright, profile, line, flags
        self.context: BrowserContext | None = None
        self.complaints: list[str] = []

    def browser(self, **options: Any) -> BrowserContext:
        if self.context is None:
            self.context = self._playwright.chromium.launch_persistent_context(
                str(self._profile),
                executable_path=find(),
                args=[*FLAGS, *self._flags],
                viewport={"width": 360, "height": 740},
                **options,
            )
            self.context.add_init_script(WATCH_POLICY)
            self.context.on("page", self._listen)
            for page in self.context.pages:
                self._listen(page)
        return self.context

    def page(self) -> Page:
        return self.browser().pages[0]

    def open(self, path: str = "/", page: Page | None = None) -> Page:
        page = page or self.page()
        page.goto(self.line.address + path)
        return page

    def sign_in(self, name: str = "wren", then: str = "/") -> Page:
        page = self.open(f"/sign-in?next={then}")
        page.locator("#name").fill(name)
        page.locator("#password").fill(PASSWORD)
        page.locator("main form button").click()
        page.wait_for_url(self.line.address + then)
        return page

    def set_up(self, name: str = "wren") -> Page:
        """Signed in, everything carried, the build verified: from now on it works without signal."""
        page = self.sign_in(name)
        has(page, "ready", timeout=90_000)
        return page

    def _listen(self, page: Page) -> None:
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on(
            "console",
            lambda said: (
                any(word in said.text for word in ("Content Security Policy", VIOLATED))
                and self.complaints.append(said.text)
            ),
        )

    def kill(self) -> None:
        """End every process of this browser at once, as when the battery is empty."""
        marker = f"--user-data-dir={self._profile}".encode()
        for folder in Path("/proc").iterdir():
            with contextlib.suppress(OSError, ValueError):
                if marker in (folder / "cmdline").read_bytes().split(b"\0"):
                    os.kill(int(folder.name), signal.SIGKILL)
        if self.context is not None:
            with contextlib.suppress(Exception):
                self.context.close()
            self.context = None
        for lock in self._profile.glob("Singleton*"):
            lock.unlink()

    def close(self) -> None:
        if self.context is not None:
            self.context.close()
            self.context = None


def fact(page: Page, name: str) -> str:
    """What the page says of itself on its root element: engine, reason, starts, waiting, trouble, ready, offered."""
    return str(page.evaluate("(name) => document.documentElement.dataset[name] ?? ''", name))


def has(page: Page, name: str, value: str = "", timeout: float = 30_000) -> None:
    """Wait until a fact of the page is so; without a value, until it is anything."""
    page.wait_for_function(
        "([name, value]) => { const is = document.documentElement.dataset[name]; return value ? is === value : is; }",
        arg=[name, value],
        timeout=timeout,
    )


@pytest.fixture(scope="session")
def playwright() -> Playwright:
    assert find(), "no Chromium here: `make browser` says how to get one"
    return one_playwright.playwright()


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    made = Office(tmp_path)
    made.start()
    yield made
    made.kill()


@pytest.fixture
def line(office: Office) -> Iterator[Line]:
    made = Line(office.port)
    yield made
    made.close()


@pytest.fixture
def new_phone(playwright: Playwright, line: Line, tmp_path: Path) -> Iterator[Callable[..., Phone]]:
    made: list[Phone] = []

    def make(*flags: str) -> Phone:
        made.append(Phone(playwright, tmp_path / f"phone{len(made)}", line, flags))
        return made[-1]

    yield make
    for one in made:
        one.close()
    assert not [complaint for one in made for complaint in one.complaints]


@pytest.fixture
def phone(new_phone: Callable[..., Phone]) -> Phone:
    return new_phone()
