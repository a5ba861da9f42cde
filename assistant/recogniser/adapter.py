"""Changes to the bundled model's numbers, learnt on noisy speech. Knows arrays and a file.

A change is small: to each wide matrix the product of two thin ones, to the rest a plain addition.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from zipfile import BadZipFile

import numpy as np

from assistant.errors import WorldFailedError
from assistant.recogniser.whisper_weights import Float32Array

# In the checkout, where engines and checklists are too; the set-up installs the program from there.
BUNDLED = Path(__file__).resolve().parents[2] / "models" / "speech" / "tuned_encoder.npz"
OWN_FILE = "own_encoder.npz"  # of an owner's voice, in a folder of his own


def read_adapter(file: Path) -> dict[str, Float32Array]:
    """The changes by the names of the model's arrays; raises WorldFailedError if unreadable."""
    try:
        with np.load(file) as kept:
            return {name.replace("|", "/"): kept[name].astype(np.float32) for name in kept.files}
    except (OSError, ValueError, BadZipFile) as error:
        raise WorldFailedError(f"{file}: not a tuned ear we can read ({error})") from error


def write_adapter(file: Path, changes: Mapping[str, Float32Array]) -> None:
    """The file that `read_adapter` reads: half the figures, a few megabytes."""
    stored = {name.replace("/", "|"): value.astype(np.float16) for name, value in changes.items()}
    file.parent.mkdir(parents=True, exist_ok=True)
    with file.open("wb") as opened:
        np.savez(opened, **stored)  # type: ignore[arg-type]  # names of arrays, not options


def apply_adapter(
    weights: dict[str, Float32Array], changes: dict[str, Float32Array]
) -> dict[str, Float32Array]:
    """New weights: `name/A` and `name/B` add B @ A to `name/weight`; anything else adds itself."""
    made = dict(weights)
    for name, change in changes.items():
        if name.endswith("/B"):
            stem = name.removesuffix("/B")
            made[f"{stem}/weight"] = made[f"{stem}/weight"] + change @ changes[f"{stem}/A"]
        elif not name.endswith("/A"):
            made[name] = made[name] + change
    return made
