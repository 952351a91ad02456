"""How hypothesis searches: the same examples every time in `make test`, new ones in `make soak`."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

settings.register_profile(
    "test",
    derandomize=True,
    database=None,
    deadline=None,  # a busy machine is not a fault of the program
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow],  # likewise
)
settings.register_profile(
    "soak", settings.get_profile("test"), derandomize=False, max_examples=2000
)
settings.load_profile(os.environ.get("SEAMPROOF_HYPOTHESIS", "test"))
