"""The assistant's mouth: effects to the speaker. Silent, and said so once, where there is none."""

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

_LONGEST_S = 30.0


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


class Aloud:
    """Performs what is to be heard, for a rehearsal that a person listens to."""

    def __init__(self, out: Out, clock: Clock | None = None) -> None:
        clock = clock or RealClock()
        self._player = player_of(None, out)
        self._deaf = isinstance(self._player, NoPlayer)
        self._speaker = Speaker(SpokenVoice(cache_folder()), self._player, Inbox(clock), clock)

    def perform(self, at_s: float, effect: Effect) -> None:
        """Say it, sound it, or stop."""
        if self._deaf:
            return
        if isinstance(effect, Say):
            self._speaker.say(effect.text, effect.urgency)
        elif isinstance(effect, Tone):
            self._speaker.tone(effect.grade)
        elif isinstance(effect, Hush):
            self._speaker.hush()

    def play(self, sound: Sound) -> None:
        """Let somebody else's voice out, after ours."""
        if not self._deaf:
            self.wait()
            self._player.play(Clip(sound, SPEECH_RATE_HZ)).wait()

    def wait(self) -> None:
        """Until everything was said."""
        if not self._deaf:
            self._speaker.idle(_LONGEST_S)

    def close(self) -> None:
        """Stop."""
        self._speaker.close()
