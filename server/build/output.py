"""Writes hash-named files with their compressed copies, and the manifest that names them."""

from __future__ import annotations

import hashlib
import json
import subprocess
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from server.build.node import node
from server.build.places import GEN, HERE

_ALREADY_SMALL = {".png", ".ico", ".webp"}


@dataclass
class File:
    """One line of the manifest. brotli is what the phone receives; phone says whether it keeps the file."""

    name: str
    file: str
    sha256: str
    bytes: int
    licence: str
    phone: bool
    brotli: int = 0


class Output:
    """The folder webui/static/gen while it is being filled."""

    def __init__(self, folder: Path = GEN) -> None:
        self.folder = folder
        self.files: dict[str, File] = {}
        folder.mkdir(parents=True, exist_ok=True)

    def add(self, name: str, content: bytes, licence: str, phone: bool = True, file: str = "") -> File:
        """Write a file as NAME.HASH.SUFFIX, or as `file` where that is given."""
        digest = hashlib.sha256(content).hexdigest()
        if not file:
            stem, dot, suffix = name.rpartition(".")
            file = f"{stem}.{digest[:12]}{dot}{suffix}"
        path = self.folder / file
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.is_file() or path.read_bytes() != content:
            path.write_bytes(content)
            for suffix in (".br", ".gz"):
                path.with_name(path.name + suffix).unlink(missing_ok=True)
        added = File(name, file, digest, len(content), licence, phone)
        self.files[name] = added
        return added

    def address(self, name: str) -> str:
        """The path below /static/ of a file added before."""
        return f"gen/{self.files[name].file}"

    def finish(self, more: dict[str, Any]) -> str:
        """Compress, write the manifest under both its names, drop what is left from before; gives the build id.

        The manifest is written last, so that a build that was cut short leaves the one before it in force.
        """
        self._compress()
        body = {"app": "dewbook", **more, "files": [asdict(self.files[name]) for name in sorted(self.files)]}
        build = hashlib.sha256(json.dumps(body, sort_keys=True).encode()).hexdigest()[:16]
        text = json.dumps({"build": build, **body}, indent=1, sort_keys=True)
        for name in (f"manifest.{build}.json", "manifest.json"):
            part = self.folder / f"{name}.part"
            part.write_text(text, encoding="utf-8")
            part.replace(self.folder / name)
        self._sweep({f"manifest.{build}.json", "manifest.json"})
        return build

    def _compress(self) -> None:
        paths = {one.name: self.folder / one.file for one in self.files.values()}
        wanted = [
            path
            for path in paths.values()
            if path.suffix not in _ALREADY_SMALL and not path.with_name(path.name + ".br").is_file()
        ]
        if wanted:
            subprocess.run([node(), str(HERE / "compress.mjs"), *map(str, wanted)], check=True)
        for one in self.files.values():
            small = paths[one.name].with_name(paths[one.name].name + ".br")
            one.brotli = small.stat().st_size if small.is_file() else one.bytes

    def _sweep(self, keep: set[str]) -> None:
        named = keep | {one.file for one in self.files.values()}
        named |= {file + suffix for file in set(named) for suffix in (".br", ".gz")}
        for path in sorted(self.folder.rglob("*"), reverse=True):
            if path.is_dir():
                if not any(path.iterdir()):
                    path.rmdir()
            elif path.relative_to(self.folder).as_posix() not in named and not path.name.startswith("."):
                path.unlink()
