"""Spoken notes of a live session: their words, freely transcribed, and their clips."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from assistant.devices.sound import Clip, as_flac
from assistant.journal.clips import ClipLimits, ClipStore
from assistant.messages import SPEECH_RATE_HZ, Expected, Heard
from assistant.recogniser.base import Sound
from assistant.recogniser.pipeline import RecognitionPipeline


class NoteTaker:
    """Recognises notes among utterances and keeps their sound; for the recogniser's thread.

    tell: is given a line when a clip could not be kept.
    """

    def __init__(
        self, hearer: RecognitionPipeline, clips: ClipStore, tell: Callable[[str], None]
    ) -> None:
        self._hearer = hearer
        self._clips = clips
        self._tell = tell

    def noted(self, sound: Sound, heard: Heard, expected: Expected) -> Heard:
        """The utterance as it was, or as a note with its transcription and the name of its clip.

        In a session with a wake phrase, notes without it are discarded and not kept.
        """
        text = self._hearer.note(sound, heard, expected)
        wake = self._hearer.wake
        if text is not None and wake is not None:
            called = heard.called or wake.begins(text)
            heard = replace(heard, called=called)
            text = wake.after(text) if called or expected.note else None
        if text is None:
            return heard
        longest = round(ClipLimits().longest_s * SPEECH_RATE_HZ)
        name = self._clips.keep(as_flac(Clip(sound[:longest], SPEECH_RATE_HZ)))
        if name is None:
            self._tell(f"the sound of a note was not kept: {self._clips.why}")
        return replace(heard, text=text, clip=name)


def kept_notes_line(clips: ClipStore) -> str:
    """How many clips were kept and where, to be shown at the end; empty without any."""
    if not clips.count:
        return ""
    notes = "1 note" if clips.count == 1 else f"{clips.count} notes"
    return f"the sound of {notes} is in {clips.folder} ({clips.size_bytes / 1e6:.1f} MB)"
