"""Libraries that are loaded where they are first needed, loaded before a live run begins.

Afterwards there may be no descriptor left to open a file with, and a part of the session that
cannot load its library is a part that fails. Commands that need none of them start sooner.
"""

from __future__ import annotations

import contextlib
from importlib import import_module

OF_A_SESSION = ("numpy.random", "transitions", "rich.text")
OF_AN_EAR = ("numpy.fft", "scipy.linalg", "scipy.signal", "scipy.special", "soxr", "soundfile")


def load(names: tuple[str, ...]) -> None:
    """Load them. One that is not there, or is broken, is told by the part that wants it."""
    for name in names:
        with contextlib.suppress(ImportError, OSError):
            import_module(name)
