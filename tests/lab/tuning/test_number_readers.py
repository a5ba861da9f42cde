"""Number words that a person read one by one: digits to be joined, and numbers as they are said."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.errors import InputWrongError
from assistant.grammar.numbers import DIGITS
from assistant.lab.tuning.card import learnt_from
from assistant.lab.tuning.gather import corpus, gather
from assistant.lab.tuning.number_readers import reader_clips
from assistant.lab.tuning.recipe import everybody
from assistant.lab.tuning.training_corpus import DIGIT, READER, TrainingCorpus, is_person
from assistant.messages import SPEECH_RATE_HZ

HZ = {"7": 300.0, "70": 500.0, "5": 900.0}


def read(folder: Path, *names: str, kind: str = "wav") -> None:
    folder.mkdir(exist_ok=True)
    for name in names:
        at = np.arange(int(0.3 * SPEECH_RATE_HZ)) / SPEECH_RATE_HZ
        tone = 0.2 * np.sin(2 * np.pi * HZ.get(name, 700.0) * at)
        soundfile.write(folder / f"{name}.{kind}", tone, SPEECH_RATE_HZ)


def loudest_hz(sound: np.ndarray) -> float:
    spectrum = np.abs(np.fft.rfft(sound))
    return float(np.fft.rfftfreq(len(sound), 1 / SPEECH_RATE_HZ)[spectrum.argmax()])


def test_digits_and_the_numbers_that_can_be_made(tmp_path: Path) -> None:
    read(tmp_path, *map(str, range(10)), "h-7", "70")
    clips = list(reader_clips(tmp_path, "somebody", np.random.default_rng(0)))
    digits = [clip for clip in clips if clip.prompt == DIGIT]
    assert [clip.words[0] for clip in digits].count("seven") == 2, "a second take"
    assert len(digits) == 11
    numbers = {clip.words: clip for clip in clips if clip.prompt != DIGIT}
    assert set(numbers) == {("seventy",), *((("seventy", c.words[0])) for c in digits[1:])}
    both = numbers["seventy", "five"].sound
    half = len(both) // 2
    assert loudest_hz(both[: half - 800]) == pytest.approx(500, abs=20)
    assert loudest_hz(both[half + 800 :]) == pytest.approx(900, abs=20)


def test_a_folder_without_number_words_is_refused(tmp_path: Path) -> None:
    read(tmp_path, "1", "2")
    with pytest.raises(InputWrongError, match=r"0\.wav to 9\.wav"):
        list(reader_clips(tmp_path, "somebody", np.random.default_rng(0)))


def test_files_may_be_named_by_the_words_and_be_of_other_kinds(tmp_path: Path) -> None:
    read(tmp_path, *DIGITS, "thirty", kind="ogg")
    clips = list(reader_clips(tmp_path, "somebody", np.random.default_rng(0)))
    assert {clip.words for clip in clips if clip.prompt != DIGIT} == {
        ("thirty",), *((("thirty", word)) for word in DIGITS[1:])
    }  # fmt: skip
    assert {clip.words[0] for clip in clips if clip.prompt == DIGIT} == set(DIGITS)


def test_readers_are_people_to_train_on_and_not_to_evaluate_on(tmp_path: Path) -> None:
    read(tmp_path / "words", *map(str, range(10)), "70")
    read(tmp_path / "more", *map(str, range(10)), kind="au")

    def speak(program: str, voice: str, text: str, pace: float) -> np.ndarray:
        return 0.1 * np.sin(np.arange(8000, dtype=np.float32))

    folder = tmp_path / "gathered"
    gather(
        folder, None, speak, 0, lambda line: None, (6, 3), [tmp_path / "words", tmp_path / "more"]
    )
    made: TrainingCorpus = corpus(folder, None)
    readers = {who for who in made.digits if who.startswith(READER)}
    assert len(readers) == 2 and all(map(is_person, readers))
    assert not {READER, *readers} & set(everybody(made))
    assert any(line.startswith("number words of 2 more people") for line in learnt_from(made))
    assert any(clip.group == READER for clip in made.clips)
