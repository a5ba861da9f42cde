"""The devices of a live session: the speaker, and the microphone with the recogniser."""

from __future__ import annotations

import argparse
import threading

from assistant.commands import options
from assistant.commands.aloud import SpeechPerformer, player_of
from assistant.commands.note_keeping import NoteTaker
from assistant.commands.output import Out
from assistant.devices.barge_in import BargeInDetector
from assistant.devices.clock import Clock
from assistant.devices.echo_canceller import EchoReference
from assistant.devices.inbox import Inbox
from assistant.devices.listener import Listener
from assistant.devices.loud_speech import LoudVoice
from assistant.devices.microphone import CardSource, Microphone
from assistant.devices.noise_gate import NoiseGate
from assistant.devices.player import NoPlayer
from assistant.devices.sound_card import SoundCard
from assistant.devices.speaker import Speaker
from assistant.devices.voice import SpokenVoice, cache_folder
from assistant.grammar.phrases import kinds_of_question
from assistant.journal.clips import ClipStore
from assistant.messages import Effect, Expected, Heard, Listen
from assistant.recogniser.base import Sound
from assistant.recogniser.detector import FOR_NOTES, Detector, DetectorLimits

GOODBYE_S = 15.0


class LiveSpeaker(SpeechPerformer):
    """The voice of a live session; the microphone is shut while it speaks."""

    def __init__(
        self,
        out: Out,
        clock: Clock,
        inbox: Inbox,
        name: str | None = None,
        mute: bool = False,
        plain: bool = False,
        lost: bool = False,
    ) -> None:
        player = NoPlayer("muted") if mute else player_of(name, out)
        self._listeners: list[Listener] = []
        self.echo_reference = EchoReference(clock)
        voice = SpokenVoice(cache_folder())
        speaker = Speaker(
            voice if plain else LoudVoice(voice),
            player,
            inbox,
            clock,
            speaking=self._speaking,
            echo_reference=self.echo_reference,
            lost=lost,
        )
        super().__init__(speaker, silent=isinstance(player, NoPlayer))

    def mutes(self, listener: Listener) -> None:
        """Shut this listener while speaking."""
        self._listeners.append(listener)

    def _speaking(self, on: bool) -> None:
        for listener in self._listeners:
            listener.speaking(on)

    def hush(self) -> None:
        """Stop at once."""
        self._speaker.hush()

    def finish(self) -> None:
        """Let the last words out."""
        self.wait(GOODBYE_S)


class LiveListener:
    """The microphone, the detector and the recogniser, narrowed by each Listen."""

    def __init__(
        self,
        given: argparse.Namespace,
        out: Out,
        clock: Clock,
        inbox: Inbox,
        expected: Expected,
        speaker: LiveSpeaker,
        clips: ClipStore,
        deaf: bool = False,
    ) -> None:
        self._hearer = options.hearer(given, out, given.wake)
        self._noting = NoteTaker(self._hearer, clips, out.tell)
        self._detector = Detector()
        self._expected = expected
        self._lock = threading.Lock()  # the recogniser is for one thread at a time
        self._change = threading.Condition()
        self._closing = False
        self._listener = Listener(
            self._detector,
            self._hear,
            inbox,
            hear_stop_words=self._hear_over,
            push_to_talk=given.talk_key,
            noise_gate=NoiseGate(),
            barge_in=BargeInDetector(speaker.echo_reference),
        )
        speaker.mutes(self._listener)
        self._microphone = Microphone(
            CardSource(SoundCard(), given.microphone), self._listener.feed, inbox, clock, deaf
        )
        self._hearer.prepare(expected)
        self._hearer.warm(expected)
        threading.Thread(
            target=self._keep_prepared, name="grammar preparation", daemon=True
        ).start()
        self._microphone.start()

    def _hear(self, sound: Sound) -> Heard:
        with self._change:
            expected = self._expected
        with self._lock:
            heard = self._hearer.heard(sound, expected, 0.0)
            return self._noting.noted(sound, heard, expected)

    def _hear_over(self, sound: Sound) -> Heard | None:
        """What is heard while the assistant speaks: the stop words, or nothing."""
        with self._lock:
            return self._hearer.stop_word(sound)

    def talk_key(self) -> None:
        """The talk key was pressed (a foot switch is a keyboard with one key)."""
        self._listener.key()

    def _keep_prepared(self) -> None:
        """Prepare each new grammar while the assistant speaks, not once somebody waits for it.

        While nothing is new, what the kinds of question share, one at a time.
        """
        prepared, left = self._expected, list(kinds_of_question(self._expected))
        while True:
            with self._change:
                while not self._closing and not left and self._expected == prepared:
                    self._change.wait()
                if self._closing:
                    return
                new = self._expected != prepared
                prepared = self._expected
            if not new:
                with self._lock:
                    self._hearer.prepare(left.pop())
                continue
            with self._lock:
                self._hearer.prepare(prepared)
            with self._lock:  # in two steps: what is said meanwhile is heard between them
                self._hearer.warm(prepared)

    def perform(self, at_s: float, effect: Effect) -> None:
        """Listen for what is expected now."""
        if isinstance(effect, Listen):
            self._detector.keep_to(FOR_NOTES if effect.expected.note else DetectorLimits())
            with self._change:
                self._expected = effect.expected
                self._change.notify()

    def close(self) -> None:
        """Stop listening."""
        with self._change:
            self._closing = True
            self._change.notify()
        self._microphone.close()
