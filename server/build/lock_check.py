"""`python -m server.build.lock_check`: the npm lock is exact; no committed text names a registry or this machine."""

from __future__ import annotations

import json
import re
import subprocess
import sys

from server.build.places import ROOT, WEBUI

# Written in pieces, so that this file does not find itself.
_FORBIDDEN = re.compile(
    "|".join(("registry" + r"\.npm", "pypi" + r"\.org", "pythonhosted" + r"\.", "/root" + "/", "/home" + "/"))
)


def faults_of_lock() -> list[str]:
    """What is wrong with the lock: versions that are not exact, packages without a hash, addresses."""
    wanted = json.loads((WEBUI / "package.json").read_text("utf-8"))
    packages = json.loads((WEBUI / "package-lock.json").read_text("utf-8"))["packages"]
    found = []
    for name, version in {**wanted.get("dependencies", {}), **wanted.get("devDependencies", {})}.items():
        locked = packages.get(f"node_modules/{name}", {}).get("version")
        if not re.fullmatch(r"\d+\.\d+\.\d+", version) or locked != version:
            found.append(f"{name}: package.json says {version}, the lock {locked}; both have to say one exact version")
    for name, one in packages.items():
        if name and not one.get("integrity", "").startswith("sha512-"):
            found.append(f"{name}: no integrity in the lock")
        if "resolved" in one:
            found.append(f"{name}: the lock holds an address; use npm with --omit-lockfile-registry-resolved")
    return found


def faults_of_text() -> list[str]:
    """Committed lines that name a package registry or a folder of somebody's machine."""
    names = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True).stdout
    found = []
    for name in filter(None, names.split("\0")):
        try:
            lines = (ROOT / name).read_text("utf-8").splitlines()
        except (UnicodeDecodeError, FileNotFoundError):
            continue
        found += [f"{name}:{at}: {hit[0]}" for at, text in enumerate(lines, 1) if (hit := _FORBIDDEN.search(text))]
    return found


def main() -> int:
    faults = faults_of_lock() + faults_of_text()
    print("\n".join(faults) if faults else "the lock is exact; no committed text names a registry or a machine")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
