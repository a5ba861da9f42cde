"""Ears that hang, fail or fall behind, and synthesisers that hang, die or answer half.

With the devices' own fakes of card, player and clock; the threads are real.
"""

from __future__ import annotations

import random
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from assistant.devices.clock import FakeClock, RealClock
from assistant.devices.inbox import Inbox
from assistant.devices.microphone import CHECK_S, MOST_BLOCKS, FakeSource, Microphone
from assistant.devices.player import FakePlayer
from assistant.devices.sound import Samples
from assistant.devices.speaker import Speaker
from assistant.devices.tone import tone
from assistant.devices.voice import SpokenVoice, Voice
from assistant.lab.faults.tally import Tally, demand
from assistant.messages import (
    SPEECH_RATE_HZ,
    DeviceBack,
    DeviceLost,
    Event,
    Grade,
    Spoke,
    Urgency,
)

HEARS_WITHIN = 4 * MOST_BLOCKS  # blocks that it is waited for
PATIENCE_S = 10.0
TOLD_S = 12.0  # by the microphone's clock: an ear that hangs is told within
DEADLINE_S = 0.4  # of the synthesiser here; five seconds in a run
TONE_S = 2.0  # a danger is heard within, whatever the words do

EARS = ("hangs", "fails now and then", "fails for good", "is slow")
_READ = "import sys, time; line = sys.stdin.readline(); "
VOICES = {
    "hangs": _READ + "time.sleep(60)",
    "dies": _READ,
    "answers half": _READ + "sys.stdout.write('ma'); sys.stdout.flush(); time.sleep(60)",
    "answers bytes": _READ + "sys.stdout.buffer.write(bytes(range(256))); sys.stdout.flush()",
    "makes no sound": "import sys\nfor line in sys.stdin: print('made', flush=True)",
    "floods": _READ + "\nwhile True: sys.stdout.write('made' * 1000); sys.stdout.flush()",
    "ends at once": "",
}


def broken_ears(times: int, seed: int, make: Callable[..., Microphone] = Microphone) -> Tally:
    """Each is told as lost, its queue stays bounded, and back when it hears again."""
    tally, rng = Tally(), random.Random(seed)
    for number in range(times):
        kind = EARS[number % len(EARS)]
        with tally.trial(f"ear {number}, {kind}"):
            _EarTrial(kind, rng, make).run()
    return tally


class _EarTrial:
    """An ear that is broken for a while."""

    def __init__(self, kind: str, rng: random.Random, make: Callable[..., Microphone]) -> None:
        self._kind, self._rng = kind, rng
        self._clock = FakeClock()
        self._inbox = Inbox(self._clock)
        self._source = FakeSource()
        self._mended = threading.Event()
        self._fed = threading.Semaphore(0)
        self._microphone = make(self._source, self._feed, self._inbox, self._clock)

    def _feed(self, block: Samples, at_s: float) -> None:
        self._fed.release()
        if self._mended.is_set():
            return
        if self._kind == "hangs":
            self._mended.wait(PATIENCE_S)
        elif self._kind == "is slow":
            self._mended.wait(0.2)
        elif self._kind == "fails for good" or self._rng.random() < 0.5:
            raise self._rng.choice((ValueError, MemoryError, OSError, KeyError))("broken")

    def run(self) -> None:
        """Broken until it is told; then mended until that is told."""
        self._microphone.open()
        hearing = threading.Thread(target=self._microphone._hear, daemon=True)
        hearing.start()
        try:
            events = self._until(DeviceLost, TOLD_S)
            lost = next(event for event in events if isinstance(event, DeviceLost))
            demand(bool(lost.reason), "it is told without a reason")
            for _ in range(MOST_BLOCKS + self._rng.randrange(MOST_BLOCKS)):
                self._speak()
            demand(self._microphone._queue.qsize() <= MOST_BLOCKS, "its queue has no bound")
            self._mended.set()
            self._until(DeviceBack, 4 * TOLD_S)
        finally:
            self._mended.set()
            self._microphone.close()
            hearing.join(PATIENCE_S)

    def _speak(self) -> None:
        noise = np.random.default_rng(1).normal(0, 0.1, int(0.05 * SPEECH_RATE_HZ))
        self._source.speak(noise.astype(np.float32))

    def _let_it_hear(self) -> None:
        """Wait until all that was spoken is heard, or the ear hangs."""
        for _ in range(HEARS_WITHIN):
            if self._microphone._queue.empty() or not self._fed.acquire(timeout=0.05):
                return

    def _until(self, kind: type[Event], within_s: float) -> list[Event]:
        """Let time pass until an event of this kind was posted."""
        events: list[Event] = []
        due_s = self._clock.now() + within_s
        while self._clock.now() < due_s:
            self._clock.sleep(CHECK_S)
            self._speak()
            self._let_it_hear()
            self._microphone.check()
            while (event := self._inbox.get(0)) is not None:
                events.append(event)
            if any(isinstance(event, kind) for event in events):
                return events
        demand(False, f"{kind.__name__} was not told within {within_s:.0f} s")
        return events


def broken_voices(times: int, seed: int, make: Callable[[str], Voice] | None = None) -> Tally:
    """A danger sounds at once, each text ends in one Spoke, and the program goes on."""
    tally, rng = Tally(), random.Random(seed)
    kinds = list(VOICES)
    for number in range(times):
        kind = kinds[number % len(kinds)]
        with tally.trial(f"voice {number}, {kind}"):
            _voice_trial((make or _voice)(VOICES[kind]), rng)
    return tally


def _voice(program: str, cache: Path | None = None) -> SpokenVoice:
    return SpokenVoice(cache, deadline_s=DEADLINE_S, command=(sys.executable, "-c", program))


def _voice_trial(voice: Voice, rng: random.Random) -> None:
    clock = RealClock()
    inbox, player = Inbox(clock), FakePlayer()
    speaker = Speaker(voice, player, inbox, clock)
    try:
        prompts = [f"Prompt {n}. Where is the water?" for n in range(rng.randint(1, 3))]
        for text in prompts:
            speaker.say(text, Urgency.PROMPT)
        time.sleep(rng.uniform(0.0, 0.3))
        danger = tone(Grade.DANGER).samples
        began_s = time.monotonic()
        speaker.tone(Grade.DANGER)
        speaker.say("Danger. Water low.", Urgency.DANGER)
        while not any(np.array_equal(clip.samples, danger) for clip in list(player.played)):
            demand(time.monotonic() - began_s < TONE_S, "the tone of a danger is late")
            time.sleep(0.01)
        demand(speaker.idle(PATIENCE_S), "it does not come to an end")
        spoken = _spoken(inbox)
        for text in (*prompts, "Danger. Water low."):
            demand(spoken.count(text) == 1, f"{spoken.count(text)} ends of one text")
    finally:
        began_s = time.monotonic()
        speaker.close()
    demand(time.monotonic() - began_s < PATIENCE_S, "it hangs when closed")


def _spoken(inbox: Inbox) -> list[str]:
    texts = []
    while (event := inbox.get(0)) is not None:
        if isinstance(event, Spoke):
            texts.append(event.text)
    return texts
