"""Says whether a Chromium is here for the browser tests; as root on Debian it is installed when missing.

Run by `make test` with whatever Python there is, before any package of ours is installed.
"""

import os
import shutil
import subprocess
import sys

NAMES = ("chromium", "chromium-browser", "google-chrome")
PACKAGES = ["chromium", "fonts-dejavu-core"]


def find() -> str | None:
    """The path of the browser: $DEWBOOK_CHROMIUM, else the first of the usual names on PATH."""
    return os.environ.get("DEWBOOK_CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)


def main() -> int:
    if find():
        return 0
    command = ["apt-get", "install", "-y", "-q", "--no-install-recommends", *PACKAGES]
    if os.geteuid() != 0 or not shutil.which("apt-get"):
        sys.stderr.write(f"The browser tests need Chromium. Install it with: sudo {' '.join(command)}\n")
        return 1
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    subprocess.run(["apt-get", "update", "-q"], check=True, env=environment, stdout=subprocess.DEVNULL)
    subprocess.run(command, check=True, env=environment, stdout=subprocess.DEVNULL)
    return 0 if find() else 1


if __name__ == "__main__":
    raise SystemExit(main())
