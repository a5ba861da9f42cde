"""The assistant's voice: effects to the speaker, or nothing, said once, where there is none."""

from __future__ import annotations

from assistant.commands.output import Out
from assistant.devices.clock import Clock, RealClock
from assistant.devices.inbox import Inbox
from assistant.devices.player import CardPlayer, NoPlayer, Player
from assistant.devices.sound import Clip
from assistant.devices.speaker import Speaker
from assistant.devices.voice import SpokenVoice, cache_folder
from assistant.errors import FootplateError
from assistant.messages import SPEECH_RATE_HZ, Effect, Hush, Say, Tone
from assistant.recogniser.base import Sound

_LONGEST_WAIT_S = 30.0


def player_of(name: str | None, out: Out) -> Player:
    """The loudspeaker; where there is none, something that plays nothing, and one line about it."""
    from assistant.devices.sound_card import SoundCard

    try:
        card = SoundCard()
        card.find(name, "speaker")
    except FootplateError as trouble:
        out.tell(f"no loudspeaker ({trouble}); follow it on the screen")
        return NoPlayer(str(trouble))
    return CardPlayer(card, name)


class SpeechPerformer:
    """Performs the effects that are heard: says, sounds a tone, stops."""

    def __init__(self, speaker: Speaker, silent: bool) -> None:
        self._speaker = speaker
        self._silent = silent

    def perform(self, at_s: float, effect: Effect) -> None:
        """Say it, sound it, or stop."""
        if self._silent:
            return
        if isinstance(effect, Say):
            self._speaker.say(effect.text, effect.urgency)
        elif isinstance(effect, Tone):
            self._speaker.tone(effect.grade)
        elif isinstance(effect, Hush):
            self._speaker.hush()

    @property
    def silent(self) -> bool:
        """Whether there is nothing that could be heard."""
        return self._silent

    def wait(self, timeout_s: float = _LONGEST_WAIT_S) -> None:
        """Until everything was said, or the time is over."""
        if not self._silent:
            self._speaker.idle(timeout_s)

    def trouble(self) -> str:
        """Why nothing is heard though it should be; empty while all is well."""
        return "" if self._silent else self._speaker.trouble()

    def close(self) -> None:
        """Stop speaking for good."""
        self._speaker.close()


class Aloud(SpeechPerformer):
    """The voice of a rehearsal that a person listens to; it plays the operator's voice too."""

    def __init__(self, out: Out, clock: Clock | None = None) -> None:
        clock = clock or RealClock()
        self._player = player_of(None, out)
        speaker = Speaker(SpokenVoice(cache_folder()), self._player, Inbox(clock), clock)
        super().__init__(speaker, silent=isinstance(self._player, NoPlayer))

    def play(self, sound: Sound) -> None:
        """Play the operator's voice, after what the assistant is saying."""
        if not self._silent:
            self.wait()
            self._player.play(Clip(sound, SPEECH_RATE_HZ)).wait()
