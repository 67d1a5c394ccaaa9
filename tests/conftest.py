"""What all tests share: the examples that hypothesis tries are the same on every run."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "stable", derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("stable")
