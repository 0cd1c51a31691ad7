"""Settings of every test run."""

from __future__ import annotations

import os
import sys

from hypothesis import HealthCheck, settings

# No deadline: these machines are shared, and a slow example is no fault. In CI the same examples come every time, so
# that a change is judged by what it changed; elsewhere each run looks at new ones.
_EVERYWHERE = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("here", **_EVERYWHERE)
settings.register_profile("ci", derandomize=True, **_EVERYWHERE)
settings.register_profile("pyodide", derandomize=True, max_examples=50, database=None, **_EVERYWHERE)
settings.load_profile("pyodide" if sys.platform == "emscripten" else "ci" if os.environ.get("CI") else "here")
