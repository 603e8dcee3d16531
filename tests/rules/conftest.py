"""Laws are tried without a deadline: the time of a case depends on what else runs."""

from hypothesis import settings

settings.register_profile("no-deadline", deadline=None)
settings.load_profile("no-deadline")
