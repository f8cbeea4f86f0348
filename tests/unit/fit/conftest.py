"""Property tests here are not timed: the first call of a solver loads it, and a shared machine has its own pace."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
