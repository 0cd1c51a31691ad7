"""A modest rate limit, kept in memory: each caller has a bucket of tokens that refills steadily."""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from collections.abc import Callable

_MOST_CALLERS = 10_000


class Rate:
    """At most `burst` requests at once and `per_second` sustained, for each caller of this process."""

    def __init__(self, per_second: float, burst: int, clock: Callable[[], float] = time.monotonic) -> None:
        self._per_second, self._burst, self._clock = per_second, float(burst), clock
        self._callers: OrderedDict[str, tuple[float, float]] = OrderedDict()
        self._lock = threading.Lock()

    def take(self, caller: str) -> float:
        """Takes one token; gives 0, or the seconds to wait where none is left."""
        with self._lock:
            now = self._clock()
            tokens, then = self._callers.pop(caller, (self._burst, now))
            tokens = min(self._burst, tokens + (now - then) * self._per_second)
            wait = 0.0 if tokens >= 1.0 else (1.0 - tokens) / self._per_second
            self._callers[caller] = (tokens if wait else tokens - 1.0, now)
            while len(self._callers) > _MOST_CALLERS:
                self._callers.popitem(last=False)
            return wait
