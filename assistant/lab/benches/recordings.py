"""Sounds to measure a recogniser with: people's recordings, joined and mixed.

Recordings: folder with commands/ and kitchen.flac (speech-to-intent benchmark, Apache-2.0) and
digits/ (Free Spoken Digit Dataset, CC BY-SA 4.0); neither is part of the project.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

ROOM_TONE = 1e-3  # of full scale: no microphone gives exact silence around speech


def order_labels(recordings: Path) -> dict[str, dict[str, str]]:
    """What is said in each recorded order, by file name."""
    text = (recordings / "commands" / "labels.json").read_text(encoding="utf-8")
    labels: dict[str, dict[str, str]] = json.loads(text)
    return labels


def orders(recordings: Path | None) -> list[Path]:
    """The files of the recorded orders; none where there are no recordings."""
    if recordings is None or not (recordings / "commands" / "labels.json").is_file():
        return []
    return [recordings / "commands" / name for name in sorted(order_labels(recordings))]


def _peak_energy(sound: Sound) -> float:
    """The energy of the loudest frame of 2048 samples."""
    count = max(1, len(sound) // 2048)
    frames = np.resize(sound, count * 2048).reshape(count, 2048).astype(np.float64)
    return float((frames**2).sum(axis=1).max())


def mixed_by_peak(speech: Sound, noise: Sound, snr_db: float, rng: np.random.Generator) -> Sound:
    """Mixed as the orders' benchmark does: by the energies of the loudest frames, peak at 0.5."""
    start = int(rng.integers(0, len(noise) - len(speech)))
    under = noise[start : start + len(speech)]
    gain = np.sqrt(_peak_energy(speech) / 10 ** (snr_db / 10) / _peak_energy(under))
    both = speech + gain * under
    return np.asarray(0.5 * both / np.abs(both).max(), dtype=np.float32)


def speakers(folder: Path) -> list[str]:
    """Who spoke the digits."""
    return sorted({file.stem.split("_")[1] for file in (folder / "digits").glob("*.flac")})


def reading(folder: Path, speaker: str, digits: Sequence[int], rng: np.random.Generator) -> Sound:
    """Digits of one person joined with gaps of 60 to 120 ms, 0.3 s of room tone around."""
    parts = [np.zeros(int(0.3 * SPEECH_RATE_HZ), np.float32)]
    for digit in digits:
        takes = sorted((folder / "digits").glob(f"{digit}_{speaker}_*.flac"))
        parts.append(read_samples(takes[int(rng.integers(len(takes)))]))
        parts.append(np.zeros(int(rng.uniform(0.06, 0.12) * SPEECH_RATE_HZ), np.float32))
    parts[-1] = np.zeros(int(0.3 * SPEECH_RATE_HZ), np.float32)
    sound = np.concatenate(parts)
    tone = ROOM_TONE * rng.standard_normal(len(sound))
    return np.asarray(sound + tone, dtype=np.float32)


def labels_in(folder: Path) -> list[dict[str, str]]:
    """The rows of a folder's `labels.csv`, by file; none where there is none."""
    table = folder / "labels.csv"
    if not table.is_file():
        return []
    with table.open(encoding="utf-8", newline="") as opened:
        return sorted(csv.DictReader(opened), key=lambda row: row["file"])
