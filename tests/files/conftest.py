"""Files are read from a disk that others use too: no example of a property has a deadline."""

from hypothesis import settings

settings.register_profile("files", deadline=None)
settings.load_profile("files")
