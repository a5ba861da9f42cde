"""The sound of this machine, tried both ways for the first meeting."""

from __future__ import annotations

import argparse

from assistant.commands import options
from assistant.commands.first_meeting import LISTEN_S
from assistant.commands.output import Out
from assistant.messages import SPEECH_RATE_HZ, Expected, Grade, Say, Tone

SENTENCE = "That is the tone of a danger. This is how I speak."


class OwnSoundCheck:
    """The loudspeaker and the microphone that a run would use."""

    def __init__(self, out: Out) -> None:
        self._out = out

    def play(self) -> str:
        """The tone, then the sentence; why nothing is heard, or empty."""
        from assistant.commands.aloud import Aloud

        aloud = Aloud(self._out)
        try:
            aloud.perform(0.0, Tone(Grade.DANGER))
            aloud.perform(0.0, Say(SENTENCE))
            aloud.wait()
            return "No loudspeaker here: follow it on the screen." if aloud.silent else ""
        finally:
            aloud.close()

    def hear(self) -> tuple[list[str], str]:
        """Six seconds of the microphone: what it is worth, and the words understood."""
        from assistant.devices.mic_check import check_lines, measure_microphone
        from assistant.devices.microphone import CardSource
        from assistant.devices.recorder import record
        from assistant.devices.sound import at_rate
        from assistant.devices.sound_card import SoundCard

        clip = record(CardSource(SoundCard(), own_rate=True), LISTEN_S)
        given = argparse.Namespace(speech=None, ear="tuned")
        ear = options.hearer(given, self._out)
        spoken = options.utterances(at_rate(clip, SPEECH_RATE_HZ).samples)
        ear.prepare(Expected())
        heard = [ear.heard(sound, Expected(), 0.0) for sound in spoken]
        words = [each.alternatives[0].words for each in heard if each.alternatives]
        return check_lines(measure_microphone(clip)), words[-1] if words else ""
