"""Text into sound: kept, in time, and never a hang."""

from __future__ import annotations

import os
import shutil
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.devices.voice import FakeVoice, SpokenVoice, prune

# The synthesiser is a process with a deadline by the clock.
pytestmark = pytest.mark.real

HANGS = "import sys, time; sys.stdin.readline(); time.sleep(60)"
DIES = "import sys; sys.stdin.readline()"
FLOODS = "import sys\nsys.stdin.readline()\nwhile True: print('made', end='', flush=True)"
DRIPS = """
import sys, time
while True:
    print(end="m", flush=True)
    time.sleep(0.05)
"""
REFUSES = (
    "import sys; sys.stdin.readline(); print('the synthesiser failed: no library', flush=True)"
)


# A second of sound for every order.
HUMS = """
import json, sys, wave
for line in sys.stdin:
    with wave.open(json.loads(line)["to"], "wb") as file:
        file.setparams((1, 2, 16000, 0, "NONE", ""))
        file.writeframes(b"\\1\\1" * 16000)
    print("made", flush=True)
"""


def voice_of(program: str, cache: Path | None = None, deadline_s: float = 0.3) -> SpokenVoice:
    return SpokenVoice(cache, deadline_s=deadline_s, command=(sys.executable, "-c", program))


@pytest.mark.parametrize(
    ("program", "trouble"),
    [
        (HANGS, "more than 0.3 s"),
        (DIES, "died"),
        (REFUSES, "no library"),
        (FLOODS, "does not come to the end"),
        (DRIPS, "more than 0.3 s"),
    ],
)
def test_a_synthesiser_that_fails_costs_its_deadline_and_no_more(
    program: str, trouble: str
) -> None:
    voice = voice_of(program, deadline_s=0.3 if program in (HANGS, DRIPS) else 10.0)
    began = time.monotonic()
    assert voice.make("pressure") is None
    assert time.monotonic() - began < 5.0
    assert trouble in voice.trouble
    began = time.monotonic()
    assert voice.make("again") is None
    assert time.monotonic() - began < 1.0
    voice.close()


# Says that all is well and makes no sound the first time it is started, and a whole one the second.
EMPTY_AT_FIRST = """
import json, pathlib, sys, wave
been = pathlib.Path({been!r})
order = json.loads(sys.stdin.readline())
if been.exists():
    with wave.open(order["to"], "wb") as file:
        file.setparams((1, 2, 16000, 0, "NONE", ""))
        file.writeframes(b"\\1\\1" * 16000)
been.touch()
print("made", flush=True)
sys.stdin.readline()
"""


def test_a_sentence_without_sound_is_asked_for_once_more(tmp_path: Path) -> None:
    program = EMPTY_AT_FIRST.format(been=str(tmp_path / "been"))
    voice = voice_of(program, deadline_s=10.0)
    clip = voice.make("pressure")
    voice.close()
    assert clip is not None and clip.duration_s == pytest.approx(1.0)


def test_a_synthesiser_that_never_makes_a_sound_is_given_up() -> None:
    voice = voice_of("import sys; sys.stdin.readline(); print('made', flush=True)", deadline_s=10.0)
    assert voice.make("pressure") is None
    assert "no sound" in voice.trouble
    voice.close()


def test_a_synthesiser_that_is_not_there_is_no_error() -> None:
    voice = SpokenVoice(None, command=("/nonexistent/python",))
    assert voice.make("pressure") is None
    assert "cannot be started" in voice.trouble
    voice.close()


def test_kept_sentences_are_pruned_oldest_first(tmp_path: Path) -> None:
    for number in range(5):
        file = tmp_path / f"{number}.wav"
        file.write_bytes(b"")
        os.utime(file, (number, number))
    prune(tmp_path, keep=2)
    assert sorted(file.name for file in tmp_path.iterdir()) == ["3.wav", "4.wav"]


def test_a_voice_that_gets_ready_prunes_its_cache_and_what_was_used_goes_last(
    tmp_path: Path,
) -> None:
    voice = SpokenVoice(tmp_path, command=(sys.executable, "-c", HUMS), cache_files=3)
    files: dict[str, Path] = {}
    for age, text in enumerate(("used again", "second", "third", "fourth", "fifth")):
        assert voice.make(text) is not None
        (newest,) = set(tmp_path.iterdir()) - set(files.values())
        files[text] = newest
        os.utime(newest, (age, age))
    voice.close()
    assert voice.make("used again") is not None
    voice.prepare()
    voice.close()
    left = {files[text] for text in ("used again", "fourth", "fifth")}
    assert set(tmp_path.iterdir()) == left


def test_the_fake_hums_as_long_as_the_words_take() -> None:
    clip = FakeVoice().make("one two three four", pace_wpm=120)
    assert clip is not None
    assert clip.duration_s == pytest.approx(2.0)


@pytest.fixture
def espeak(tmp_path: Path) -> Iterator[SpokenVoice]:
    if shutil.which("espeak-ng") is None:
        pytest.skip("espeak-ng is not installed")
    voice = SpokenVoice(tmp_path / "kept", deadline_s=20.0)
    yield voice
    voice.close()


@pytest.mark.sound
def test_many_sentences_one_after_the_other_and_each_is_kept(espeak: SpokenVoice) -> None:
    texts = [f"Pressure {number} pounds." for number in range(12)]
    made = [espeak.make(text) for text in texts]
    assert espeak.trouble == ""
    assert all(clip is not None and np.abs(clip.samples).max() > 0.05 for clip in made)
    espeak.close()
    began = time.monotonic()
    again = [espeak.make(text) for text in texts]
    assert time.monotonic() - began < 2.0
    for first, second in zip(made, again, strict=True):
        assert first is not None and second is not None
        assert first.samples == pytest.approx(second.samples, abs=1e-4)


@pytest.mark.sound
def test_every_one_of_many_long_and_short_sentences_is_whole(espeak: SpokenVoice) -> None:
    """pyttsx3 may say that it is done before the file is written; a whole one has its length."""
    words = [
        "steam",
        "water",
        "fire",
        "pump",
        "glass",
        "valve",
        "coal",
        "regulator",
        "damper",
        "blower",
    ]
    for number in range(60):
        text = " ".join((words * 4)[: 1 + number % 30]) + f" {number}"
        clip = espeak.make(text)
        assert clip is not None, espeak.trouble
        assert clip.duration_s > 0.18 * len(text.split())


@pytest.mark.sound
def test_a_broken_file_in_the_cache_is_made_anew(espeak: SpokenVoice, tmp_path: Path) -> None:
    assert espeak.make("water half") is not None
    (kept,) = (tmp_path / "kept").glob("*.wav")
    kept.write_bytes(kept.read_bytes()[:100])
    clip = espeak.make("water half")
    assert clip is not None
    assert clip.duration_s > 0.4


@pytest.mark.sound
def test_a_folder_that_cannot_be_written_only_costs_the_cache(tmp_path: Path) -> None:
    if shutil.which("espeak-ng") is None:
        pytest.skip("espeak-ng is not installed")
    in_the_way = tmp_path / "kept"
    in_the_way.write_text("a file where the folder should be")
    voice = SpokenVoice(in_the_way, deadline_s=20.0)
    assert voice.make("water half") is not None
    voice.close()


@pytest.mark.sound
@pytest.mark.parametrize(("pace_wpm", "least", "most"), [(140, 130, 150), (100, 85, 100)])
def test_pace_over_ordinary_sentences(
    espeak: SpokenVoice, pace_wpm: int, least: float, most: float
) -> None:
    """Routine prompts at 130-150 words a minute, numbers at 100 or fewer (human-factors 3.5)."""
    texts = [
        "About twelve minutes to wanted pressure, ten to sixteen.",
        "The water is rising by itself as it warms, not by feed.",
        "Open the drains before you move the engine.",
        "Where is the water in the glass now?",
        "Put a little more coal on and shut the damper half way.",
        "Water two thirds. Rising by expansion.",
        "Danger. Water low. Drop the fire.",
        "Prepare the firebox: grate clean, ashpan empty, tubes swept.",
        "Tell me the pressure and the water.",
        "Say again the pressure, please.",
    ]
    words, seconds, troubles = 0, 0.0, []
    for text in texts:
        clip = espeak.make(text, pace_wpm)
        if clip is None:  # of a busy machine: another test asks that each is made
            troubles.append(f"{text}: {espeak.trouble}")
        else:
            words, seconds = words + len(text.split()), seconds + clip.duration_s
    assert len(troubles) <= 2, troubles
    assert least <= 60 * words / seconds <= most
