"""How hypothesis looks for examples: the same ones at every run, unless HYPOTHESIS_PROFILE=wander asks for new ones."""

import os

from hypothesis import HealthCheck, Phase, settings

_ALIKE = {
    "deadline": None,
    "database": None,
    "phases": (Phase.explicit, Phase.generate, Phase.shrink),
    "suppress_health_check": [HealthCheck.too_slow, HealthCheck.data_too_large],
}

settings.register_profile("steady", derandomize=True, max_examples=150, **_ALIKE)
settings.register_profile("wander", derandomize=False, max_examples=1500, print_blob=True, **_ALIKE)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))
