"""People's numbers by several ears: the rows, and noise that nothing was learnt under."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.lab.benches.hear_numbers import NumberBench, bench_lines, in_place
from assistant.lab.benches.recorded_noise import (
    LeftOutNoise,
    noise_recordings,
    noises_to_learn_under,
)
from assistant.messages import SPEECH_RATE_HZ
from assistant.simulator.noise import engine_noise


def test_without_recordings_it_says_so(tmp_path: Path) -> None:
    lines = list(bench_lines(NumberBench(tmp_path, engine_noise, [])))
    assert lines == ["no numbers/ among the recordings: people's numbers are left out"]


def test_a_take_is_heard_in_noise_at_the_level_that_is_wanted() -> None:
    tone = 0.2 * np.sin(np.arange(SPEECH_RATE_HZ, dtype=np.float32))
    quiet, noisy = (in_place(tone, engine_noise, "mix", level, [1]) for level in (None, 0.0))
    assert len(quiet) == len(noisy) == int(1.6 * SPEECH_RATE_HZ)
    before = slice(0, SPEECH_RATE_HZ // 5)
    assert np.std(quiet[before]) < 0.002 < 0.02 < np.std(noisy[before])


def test_share_alike_recordings_are_heard_in_and_never_learnt_under(tmp_path: Path) -> None:
    (tmp_path / "noise").mkdir()
    rows = []
    for at, licence in enumerate(["CC0"] * 12 + ["CC-BY-SA-3.0"]):
        soundfile.write(tmp_path / "noise" / f"{at}.flac", np.full(800, 0.1), SPEECH_RATE_HZ)
        rows.append(
            {"file": f"{at}.flac", "kind": "rain", "group": f"g{at}", "author": "A",
             "licence": licence}
        )  # fmt: skip
    with (tmp_path / "noise" / "labels.csv").open("w", newline="") as opened:
        writer = csv.DictWriter(opened, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    left_out = [one for one in noise_recordings(tmp_path) if one.left_out]
    assert any(one.licence == "CC-BY-SA-3.0" for one in left_out) and 2 <= len(left_out) <= 9
    assert len(noises_to_learn_under(tmp_path)) == 13 - len(left_out)
    sound = LeftOutNoise(tmp_path)("rain", 0.3, np.random.default_rng(0))
    assert len(sound) == 4800
    assert float(np.sqrt(np.mean(sound**2))) == pytest.approx(0.05, rel=0.01)
