"""The desk takes nothing from around it: no clock, no chance, no environment, no order of hashing."""

from __future__ import annotations

import ast
import hashlib
import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from desk_host import READING, Host, opened_sheet

ROOT = Path(__file__).resolve().parents[2]
FORBIDDEN = {"os", "random", "time", "locale", "zoneinfo", "secrets", "socket", "threading"}
SCRIPT = """
import sys; sys.path[:0] = ['.', 'tests/webui']
from desk_host import *
host = Host(); sheet = opened_sheet(host); host.kept(sheet + '/reading', READING)
paths = ('/', '/bench', '/bench/superheat', '/places', sheet, sheet + '/reading', '/settings')
pages = [host.get(path).html for path in paths]
print('\\n'.join([*pages, *(e.text for e in host.entries)]))
"""


@pytest.mark.parametrize("path", sorted((ROOT / "webui").rglob("*.py")), ids=lambda p: p.relative_to(ROOT).as_posix())
def test_nothing_impure_is_imported(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
        names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        assert not {name.partition(".")[0] for name in names} & FORBIDDEN
        if isinstance(node, ast.Attribute):
            assert node.attr not in ("now", "today", "utcnow") or not isinstance(node.value, ast.Name) or (
                node.value.id not in ("datetime", "date")
            )  # fmt: skip


def test_same_pages_and_entries_whatever_the_hash_seed() -> None:
    """The two hosts hash texts differently, and must show and keep the same."""
    digests = set()
    for seed in ("0", "1", "4711"):
        done = subprocess.run(
            [sys.executable, "-c", SCRIPT], cwd=ROOT, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True,
            check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr.decode()
        digests.add(hashlib.sha256(done.stdout).hexdigest())
    assert len(digests) == 1


def test_pages_need_no_clock_and_no_chance(host: Host, monkeypatch: pytest.MonkeyPatch) -> None:
    sheet = opened_sheet(host)  # everything is loaded by now

    def refuse(*args: object, **kwargs: object) -> object:
        raise AssertionError("the desk looked outside")

    for module, name in ((time, "time"), (time, "localtime"), (random, "random"), (os, "urandom"), (os, "getenv")):
        monkeypatch.setattr(module, name, refuse)
    assert host.post(f"{sheet}/reading", READING).status == 303
    for path in ("/", "/places", sheet, f"{sheet}/reading", "/settings", "/manual/limits", "/bench/saturation"):
        assert host.get(path).status == 200
