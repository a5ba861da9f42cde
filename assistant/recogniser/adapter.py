"""Adapters: what training adds to the bundled model's weights. Knows arrays and a file.

To each wide matrix a low-rank product is added (LoRA, Hu et al. 2021), to each small array a plain
difference.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from zipfile import BadZipFile

import numpy as np

from assistant.errors import WorldFailedError
from assistant.recogniser import shipped
from assistant.recogniser.whisper_weights import Float32Array

BUNDLED = shipped.TUNED
CALIBRATION = "calibration/evidence_exponents"
"""In quiet and in noise, see `DecodingSettings`; no part of the weights."""
OWN_FILE = "own_encoder.npz"  # the adapter to an owner's voice, in a folder of his own


def read_adapter(file: Path) -> dict[str, Float32Array]:
    """Arrays by name; raises WorldFailedError if the file is unreadable."""
    try:
        with np.load(file) as stored:
            return {
                name.replace("|", "/"): stored[name].astype(np.float32) for name in stored.files
            }
    except (OSError, ValueError, BadZipFile) as error:
        raise WorldFailedError(f"{file}: not a tuned ear we can read ({error})") from error


def write_adapter(file: Path, adapter: Mapping[str, Float32Array]) -> None:
    """The file that `read_adapter` reads: float16, a few megabytes."""
    stored = {name.replace("/", "|"): value.astype(np.float16) for name, value in adapter.items()}
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("wb") as opened:
        np.savez(opened, **stored)  # type: ignore[arg-type]  # names of arrays, not options


def apply_adapter(
    weights: dict[str, Float32Array], adapter: dict[str, Float32Array]
) -> dict[str, Float32Array]:
    """New weights: `name/A` and `name/B` add B @ A to `name/weight`; anything else adds itself, but
    `CALIBRATION`."""
    adapted = dict(weights)
    for name, array in adapter.items():
        if name.endswith("/B"):
            stem = name.removesuffix("/B")
            adapted[f"{stem}/weight"] = adapted[f"{stem}/weight"] + array @ adapter[f"{stem}/A"]
        elif not name.endswith("/A") and name != CALIBRATION:
            adapted[name] = adapted[name] + array
    return adapted
