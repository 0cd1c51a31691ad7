"""All benchmarks in one run: `make bench`. Ratios, since seconds of one machine say nothing of another."""

from __future__ import annotations

import importlib
import platform
import sys

NAMES = ("bench_saturation", "bench_engine")


def main(chosen: list[str]) -> int:
    print(f"Python {platform.python_version()}, {platform.machine()}, {platform.system()}")
    for name in chosen or NAMES:
        module = importlib.import_module(f"tests.bench.{name}")
        print(f"\n{name}: {module.__doc__.splitlines()[0]}")
        for what, ratio, aim in module.run():
            print(f"  {what:<58} {ratio:>14}   {aim}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
