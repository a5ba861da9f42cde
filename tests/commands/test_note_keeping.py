"""A note from its sound to the record, the report's player and the verdict on a changed one."""

from __future__ import annotations

import argparse
import io
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.commands import options
from assistant.commands.note_keeping import NoteTaker, kept_notes_line
from assistant.devices.sound import Clip, at_rate
from assistant.devices.voice import SpokenVoice
from assistant.grammar.notes import in_one_breath
from assistant.grammar.wake_phrase import Wake
from assistant.journal.clips import ClipLimits, ClipStore
from assistant.messages import SPEECH_RATE_HZ, Alternative, Answer, Expected, Heard
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.recogniser.pipeline import RecognitionPipeline

SOUND = (0.3 * np.sin(np.arange(3 * SPEECH_RATE_HZ) / 5)).astype(np.float32)
UNSURE = Heard(0.0, "ear", (Alternative(Answer("no"), "no", 0.9),), -5.0, -2.0, 3.0, "no")


class DeafEar:
    name = "ear"

    def prepare(self, grammar: Grammar) -> None: ...

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        return NBest(self.name, ())


class Writes:
    """A dictation that always writes the same."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.asked = 0

    def write(self, sound: Sound) -> str:
        self.asked += 1
        return self.text


def noting(tmp_path: Path, text: str, most: int = 60) -> tuple[NoteTaker, Writes, list[str]]:
    troubles: list[str] = []
    writes = Writes(text)
    shelf = ClipStore(tmp_path / "day.jsonl", ClipLimits(most=most))
    return (
        NoteTaker(RecognitionPipeline(DeafEar(), writes), shelf, troubles.append),
        writes,
        troubles,
    )


def test_a_note_in_one_breath_is_written_down_and_its_sound_kept(tmp_path: Path) -> None:
    one, _, _ = noting(tmp_path, "Note, the plug weeps.")
    heard = one.noted(SOUND, UNSURE, Expected())
    assert (heard.text, heard.clip) == ("Note, the plug weeps.", "note-001.flac")
    kept, rate_hz = soundfile.read(tmp_path / "day.clips" / "note-001.flac", dtype="float32")
    assert rate_hz == SPEECH_RATE_HZ
    assert np.abs(kept - SOUND).max() < 1e-4
    assert kept_notes_line(ClipStore(tmp_path / "day.jsonl")).startswith(
        "the sound of 1 note is in "
    )


def test_what_is_surely_one_of_ours_is_not_written_down(tmp_path: Path) -> None:
    one, writes, _ = noting(tmp_path, "Note, the plug weeps.")
    sure = Heard(0.0, "ear", (Alternative(Answer("no"), "no", 0.9),), -0.1, -0.2, 1.2, "no")
    assert one.noted(SOUND, sure, Expected()) == sure
    assert writes.asked == 0


def test_other_talk_is_no_note(tmp_path: Path) -> None:
    one, _, _ = noting(tmp_path, "No, the other gauge says seventy.")
    assert one.noted(SOUND, UNSURE, Expected()) == UNSURE
    assert not (tmp_path / "day.clips").exists()


def test_an_expected_note_is_taken_in_any_words_and_cut_at_its_bound(tmp_path: Path) -> None:
    one, _, _ = noting(tmp_path, "It hisses.")
    long = np.zeros(SPEECH_RATE_HZ * 40, np.float32)
    assert one.noted(long, UNSURE, Expected(note=True)).text == "It hisses."
    assert soundfile.info(tmp_path / "day.clips" / "note-001.flac").duration == 30.0


def test_a_sound_that_cannot_be_kept_is_said_and_the_words_stay(tmp_path: Path) -> None:
    one, _, troubles = noting(tmp_path, "Note, the plug weeps.", most=0)
    heard = one.noted(SOUND, UNSURE, Expected())
    assert (heard.text, heard.clip) == ("Note, the plug weeps.", None)
    assert troubles == ["the sound of a note was not kept: this journal has its 0 sounds"]


@pytest.mark.real  # hearing is timed
@pytest.mark.ear
@pytest.mark.sound
def test_the_bundled_ear_writes_a_note_and_leaves_readings_alone() -> None:
    """In a synthetic voice at 20 dB: what an "out of our sentences" utterance is written as."""
    voice = SpokenVoice(deadline_s=20.0)

    class Quiet:
        json = False

        def tell(self, text: str) -> None: ...

    hearer = options.hearer(argparse.Namespace(speech=None, ear="tuned"), Quiet())  # type: ignore[arg-type]
    rng = np.random.default_rng(1)
    found = {}
    for words in ("Note, the left washout plug weeps.", "Pressure seventy five.", "Not yet."):
        clip = voice.make(words)
        if clip is None:
            pytest.skip(f"no synthesiser: {voice.trouble}")
        sound = at_rate(clip, SPEECH_RATE_HZ).samples
        sound = sound + rng.normal(0, 0.1 * float(np.sqrt((sound**2).mean())), len(sound))
        sound = sound.astype(np.float32)
        found[words] = hearer.note(sound, hearer.heard(sound, Expected(), 0.0), Expected())
    voice.close()
    first, *others = found.values()
    assert first is not None
    assert in_one_breath(first) is not None
    assert "left washout plug" in first
    assert others == [None, None]


def test_flac_is_read_back_as_it_was() -> None:
    from assistant.devices.sound import as_flac

    samples, rate_hz = soundfile.read(
        io.BytesIO(as_flac(Clip(SOUND, SPEECH_RATE_HZ))), dtype="float32"
    )
    assert (rate_hz, len(samples)) == (SPEECH_RATE_HZ, len(SOUND))


SPOKEN_NOTES = [
    ("Engine minder, note the plug weeps.", False, "note the plug weeps.", True),
    ("Note, the plug weeps.", False, "no", False),
    ("Note, the plug weeps.", True, "Note, the plug weeps.", True),
]


@pytest.mark.parametrize(("written", "called", "text", "kept"), SPOKEN_NOTES)
def test_with_a_wake_phrase_only_who_calls_takes_a_note(
    tmp_path: Path, written: str, called: bool, text: str, kept: bool
) -> None:
    shelf = ClipStore(tmp_path / "day.jsonl", ClipLimits())
    one = NoteTaker(RecognitionPipeline(DeafEar(), Writes(written), Wake()), shelf, [].append)  # type: ignore[arg-type]
    heard = one.noted(SOUND, replace(UNSURE, called=called), Expected())
    assert heard.text == text
    assert heard.called is kept
    assert bool(heard.clip) is kept


def test_a_note_that_was_asked_for_needs_no_phrase(tmp_path: Path) -> None:
    shelf = ClipStore(tmp_path / "day.jsonl", ClipLimits())
    one = NoteTaker(
        RecognitionPipeline(DeafEar(), Writes("The plug weeps."), Wake()), shelf, [].append
    )  # type: ignore[arg-type]
    heard = one.noted(SOUND, replace(UNSURE, called=False), Expected(note=True))
    assert (heard.text, heard.called, heard.clip) == ("The plug weeps.", False, "note-001.flac")
