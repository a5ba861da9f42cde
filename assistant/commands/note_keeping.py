"""Notes said aloud in a live session: the words in any form, and the sound beside the journal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from assistant.devices.sound import Clip, as_flac
from assistant.journal.clips import ClipLimits, ClipStore
from assistant.messages import SPEECH_RATE_HZ, Expected, Heard
from assistant.recogniser.base import Sound
from assistant.recogniser.pipeline import RecognitionPipeline


class NoteTaker:
    """Turns what was heard into a note where it is one. For the thread that hears.

    tell: where it is said that a sound could not be kept.
    """

    def __init__(
        self, hearer: RecognitionPipeline, shelf: ClipStore, tell: Callable[[str], None]
    ) -> None:
        self._hearer = hearer
        self._shelf = shelf
        self._tell = tell

    def noted(self, sound: Sound, heard: Heard, expected: Expected) -> Heard:
        """The same, or a note: its words as written down freely, and the name of its sound.

        Where a wake phrase is wanted, what others say is no note and its sound is not kept.
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
        name = self._shelf.keep(as_flac(Clip(sound[:longest], SPEECH_RATE_HZ)))
        if name is None:
            self._tell(f"the sound of a note was not kept: {self._shelf.why}")
        return replace(heard, text=text, clip=name)


def kept_notes_line(shelf: ClipStore) -> str:
    """What is kept and where, for the end; empty when there is nothing."""
    if not shelf.count:
        return ""
    notes = "1 note" if shelf.count == 1 else f"{shelf.count} notes"
    return f"the sound of {notes} is in {shelf.folder} ({shelf.size_bytes / 1e6:.1f} MB)"
