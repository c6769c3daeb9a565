"""Settings that hold for every test."""

from hypothesis import settings

# The same examples every time, no clock, nothing kept on disk between runs.
settings.register_profile("house", deadline=None, derandomize=True, database=None, print_blob=False)
settings.load_profile("house")
