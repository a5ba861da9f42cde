"""Where recordings from outside lie, which are no part of the project. Knows one variable."""

from __future__ import annotations

import os
from pathlib import Path

VARIABLE = "FOOTPLATE_OUTSIDE_DATA"
"""Names a folder with speech/ in it; tests and benches leave out what is absent."""


def speech_folder() -> Path:
    """Recordings of people: digits/, commands/, numbers/, kitchen.flac. It need not be there."""
    return Path(os.environ.get(VARIABLE, "outside-data")) / "speech"


def forecast_folder() -> Path:
    """What forecasts are judged by: steamups/ and reference/records/. It need not be there."""
    return Path(os.environ.get(VARIABLE, "outside-data"))
