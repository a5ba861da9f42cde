"""Hours of a live session while devices fail: by the real clock on a virtual card, or by a false
clock with the devices' own fakes. What is heard is told by the bench; all else is the program's.

Every fault and its end are told in time, every utterance that the detector closed is in the book,
memory and descriptors stay as they are.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import tempfile
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

import numpy as np

from assistant.app import Guarded, Loop
from assistant.commands.aloud import SpeechPerformer
from assistant.commands.run import VOICE_WORDS
from assistant.commands.session_build import header_of, session_config_of
from assistant.config.engine_file import find_engine
from assistant.devices.clock import Clock, FakeClock, RealClock
from assistant.devices.inbox import Inbox
from assistant.devices.listener import Detector as AnyDetector
from assistant.devices.listener import Listener
from assistant.devices.microphone import CHECK_S, CardSource, FakeSource, Microphone, Source
from assistant.devices.player import CardPlayer, FakePlaying, Player, Playing
from assistant.devices.sound import BLOCK, Clip, Samples
from assistant.devices.sound_card import SoundCard
from assistant.devices.speaker import Speaker
from assistant.devices.voice import SpokenVoice, Voice
from assistant.dialogue.session import Session
from assistant.errors import WorldFailedError
from assistant.grammar.phrases import grammar, kinds_of_question
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.lab.faults import virtual_card
from assistant.lab.faults.level_detector import LevelDetector
from assistant.lab.faults.tally import Tally, demand
from assistant.messages import (
    SPEECH_RATE_HZ,
    DeviceBack,
    DeviceLost,
    Event,
    Heard,
    Started,
    Tick,
)
from assistant.recogniser.typed_recogniser import hear_typed

TOLD_S, OVER_S = 2.0, 5.0  # a fault is told, and its end, within
GRAIN_S = 0.3  # of the check of a microphone, and of reading the queue
EVERY_S = (90.0, 240.0)  # between two faults
LASTS_S = (4.0, 30.0)
SPEAKS_EVERY_S = (15.0, 45.0)
SETTLED_S = 1800.0  # from here on memory and descriptors are compared
LEAST_H = 0.25  # over less no growth is told
MOST_MORE_FILES = 2
FILES_OF_A_HANG = 10  # a start that hangs keeps its own until the process ends; at most 16 may hang
MOST_MORE_MB = 8.0  # an hour: the session remembers what was reported
SAID = (
    "water half", "pressure sixty", "where are we", "what next", "feed on", "feed off",
    "gibberish of nobody", "how long", "pressure sixty two", "damper open", "yes", "no",
)  # fmt: skip
ANSWERED = "where are we"  # always answered aloud
QUIET_S = 4.0  # after which whatever was said is closed and heard
BLOCKS = round(CHECK_S * SPEECH_RATE_HZ / BLOCK)  # of the false clock, from check to check
LOUD_PUMPS = 5
PATIENCE_S = 20.0
OPERATOR = "gmw/en-us"  # the assistant speaks with another
BOOK, TICK_S = "hours.jsonl", 1.0

Process = Callable[[Event], None]
Fault = tuple[str, Callable[[], None], Callable[[], None]]
"""The device that is lost, what breaks it, what mends it."""


class World(Protocol):
    """The devices, and what goes wrong with them."""

    @property
    def clock(self) -> Clock: ...

    @property
    def source(self) -> Source: ...

    @property
    def player(self) -> Player: ...

    @property
    def voice(self) -> Voice: ...

    @property
    def detector(self) -> AnyDetector: ...

    def say(self) -> None:
        """Something loud is said into the microphone, about a second long."""

    def start(self, microphone: Microphone) -> None:
        """Begin to listen."""

    def pump(self, inbox: Inbox, microphone: Microphone, process: Process) -> None:
        """Let a little time pass, with whatever happens in it."""

    def settle(self, speaker: Speaker) -> None:
        """After an event: wait for what takes no time in this world."""

    def faults(self) -> dict[str, Fault]:
        """Each by its name."""


class Hours:
    """One live session in such a world."""

    def __init__(self, world: World, folder: Path, rng: random.Random) -> None:
        self.world, self._rng = world, rng
        engine = find_engine("practice")
        header = header_of(engine, "2026-01-01T10:00:00+0000", 1, "typed")
        self._journal = Journal.create(folder / BOOK, header)
        self.session = Session(session_config_of(header))
        self.inbox = Inbox(world.clock)
        self.closed = self.asked = 0
        self.came: list[Event] = []
        self._ear_broken = False
        self._tick_s = 0.0
        listener = Listener(world.detector, self._hear, self.inbox)
        self.speaker = Speaker(
            world.voice, world.player, self.inbox, world.clock, speaking=listener.speaking
        )
        voice = SpeechPerformer(self.speaker, silent=False)
        self.loop = Loop(self.session, self._journal, [Guarded(voice, *VOICE_WORDS, voice.trouble)])
        self._listener = listener
        self.microphone = Microphone(world.source, self._feed, self.inbox, world.clock)

    def _feed(self, block: Samples, at_s: float) -> None:
        if self._ear_broken:
            raise ValueError("broken")
        self._listener.feed(block, at_s)

    def _hear(self, sound: Samples) -> Heard:
        self.closed += 1
        return hear_typed(self._rng.choice(SAID), self.session.expected, 0.0)

    def begin(self) -> None:
        """Taken over warm, so that readings are asked for all the time.

        What is heard in each kind of question is made first, as for a live ear: made in the middle
        of it, the 3 MB of each would be taken for growth.
        """
        for question in kinds_of_question(self.session.expected):
            grammar(question)
        self.loop.process(Started(0.0, "raising steam"))

    def process(self, event: Event) -> None:
        """One event through the loop."""
        if isinstance(event, DeviceLost | DeviceBack):
            self.came.append(event)
        self.loop.process(event)
        self.world.settle(self.speaker)

    def break_ear(self) -> None:
        """From here on the ear raises."""
        self._ear_broken = True

    def mend_ear(self) -> None:
        """It hears again."""
        self._ear_broken = False

    def go_on(self, seconds: float, until: Callable[[], bool] = lambda: False) -> bool:
        """Let so much time pass, or until something has come; whether it came."""
        due_s = self.world.clock.now() + seconds
        while self.world.clock.now() < due_s:
            self.world.pump(self.inbox, self.microphone, self.process)
            if self.world.clock.now() >= self._tick_s:
                self._tick_s = self.world.clock.now() + TICK_S
                self.process(Tick(self.world.clock.now()))
            if until():
                return True
        return False

    def told(self, kind: type[DeviceLost] | type[DeviceBack], device: str, since: int) -> bool:
        """Whether it came behind so many."""
        return any(isinstance(e, kind) and e.device == device for e in self.came[since:])

    def ask_aloud(self) -> None:
        """Have something said, so that a loudspeaker is used."""
        self.asked += 1
        self.process(hear_typed(ANSWERED, self.session.expected, self.world.clock.now()))

    def fault(self, device: str, breaks: Callable[[], None], mends: Callable[[], None]) -> None:
        """One fault from its beginning to its end."""
        speaker, mark = device == "speaker", len(self.came)
        breaks()
        began_s = self.world.clock.now()
        if speaker:
            self.ask_aloud()
        came = self.go_on(TOLD_S + GRAIN_S, lambda: self.told(DeviceLost, device, mark))
        demand(came, f"not told after {self.world.clock.now() - began_s:.1f} s")
        self.go_on(self._rng.uniform(*LASTS_S))
        mark = len(self.came)
        mends()
        began_s = self.world.clock.now()
        if speaker:
            self.ask_aloud()
        came = self.go_on(OVER_S + GRAIN_S, lambda: self.told(DeviceBack, device, mark))
        demand(came, f"its end not told after {self.world.clock.now() - began_s:.1f} s")

    def close(self) -> None:
        """Stop, with all that was heard in the book."""
        self.go_on(QUIET_S)
        self.microphone.close()
        while (event := self.inbox.get(0)) is not None:
            self.process(event)
        self.speaker.close()
        self.loop.require_all_written()
        self._journal.close()


def hours(world: World, length_h: float, seed: int, name: str) -> Tally:
    """Faults one after the other for so long; then what is in the book, and what was used."""
    tally, rng = Tally(), random.Random(seed)
    with tempfile.TemporaryDirectory(prefix="footplate-faults-") as folder:
        session = Hours(world, Path(folder), rng)
        used = _Used(world.clock)
        try:
            session.begin()
            world.start(session.microphone)
            end_s = world.clock.now() + 3600.0 * length_h
            while world.clock.now() < end_s:
                _one_fault(session, rng, tally, used)
        finally:
            session.close()
        with tally.trial("the book"):
            book = reader.read(Path(folder) / BOOK)
            heard = sum(isinstance(event, Heard) for event in book.events())
            said = session.closed + session.asked
            demand(heard == said, f"{said} utterances were closed, {heard} are in the book")
        with tally.trial("memory and descriptors"):
            used.judge()
    tally.notes.append(f"{name}: {length_h:g} h, {session.closed} utterances, {used.words()}")
    return tally


def _one_fault(session: Hours, rng: random.Random, tally: Tally, used: _Used) -> None:
    """Some minutes in which things are said, then a fault."""
    world = session.world
    due_s = world.clock.now() + rng.uniform(*EVERY_S)
    while world.clock.now() < due_s:
        session.go_on(rng.uniform(*SPEAKS_EVERY_S))
        world.say()
    session.go_on(QUIET_S)
    used.look()
    faults = {**world.faults(), "ear": ("microphone", session.break_ear, session.mend_ear)}
    which = list(faults)[tally.tried % len(faults)]
    with tally.trial(f"{which} at {world.clock.now() / 60.0:.0f} min"):
        session.fault(*faults[which])


@dataclass(frozen=True, slots=True)
class _Sample:
    at_s: float
    files: int
    mb: float
    hung: int
    """Calls into the sound library that have not returned."""

    @property
    def own_files(self) -> int:
        """Descriptors, but for those of calls that hang."""
        return self.files - FILES_OF_A_HANG * self.hung


class _Used:
    """Memory and descriptors of this process, from time to time."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._samples: list[_Sample] = []

    def look(self) -> None:
        """Take a sample."""
        pages = int(Path("/proc/self/statm").read_text().split()[1])
        mb = pages * os.sysconf("SC_PAGE_SIZE") / 1e6
        files = len(list(Path("/proc/self/fd").iterdir()))
        self._samples.append(_Sample(self._clock.now(), files, mb, SoundCard._left))

    def _ends(self) -> tuple[_Sample, _Sample]:
        """The first third of the samples after the start has settled, and the last: the least used
        in each, for a stream that plays just then has descriptors of its own.
        """
        settled = [sample for sample in self._samples if sample.at_s >= SETTLED_S]
        all_of = settled if len(settled) >= 3 else self._samples
        third = max(1, len(all_of) // 3)
        return _least(all_of[:third]), _least(all_of[-third:])

    def judge(self) -> None:
        """Whether they stay as they are."""
        first, last = self._ends()
        more = last.own_files - first.own_files
        demand(more <= MOST_MORE_FILES, f"{more} more descriptors are open")
        lapse_h = (last.at_s - first.at_s) / 3600.0
        if first.at_s < SETTLED_S or lapse_h < LEAST_H:
            return  # what is loaded at the start is no growth
        grown = (last.mb - first.mb) / lapse_h
        demand(grown <= MOST_MORE_MB, f"memory grows by {grown:.1f} MB an hour")

    def words(self) -> str:
        """From what to what."""
        first, last = self._ends()
        files = f"descriptors {first.files} to {last.files}, {last.hung} calls that hang"
        return f"{files}, memory {first.mb:.0f} to {last.mb:.0f} MB"


def _least(samples: list[_Sample]) -> _Sample:
    least = min(samples, key=lambda sample: sample.own_files)
    return _Sample(samples[0].at_s, least.files, min(s.mb for s in samples), least.hung)


# --- by a false clock


class FakeWorld:
    """The fakes of card and player; time passes as it is pumped, the threads are real."""

    def __init__(self) -> None:
        self.clock = FakeClock()
        self.source = FakeSource()
        self.player = QuietPlayer()
        self.voice = OneHum()
        self.detector = LevelDetector()
        noise = np.random.default_rng(1)
        self._quiet = noise.normal(0, 0.01, BLOCKS * BLOCK).astype(np.float32)
        self._loud = noise.normal(0, 0.3, BLOCKS * BLOCK).astype(np.float32)
        self._zeros = np.zeros(BLOCKS * BLOCK, np.float32)
        self._to_say = 0
        self._muted = False

    def start(self, microphone: Microphone) -> None:
        """Listen; the watch over it is called as time passes."""
        microphone.open()
        threading.Thread(target=microphone._hear, daemon=True).start()

    def say(self) -> None:
        """A second of noise."""
        self._to_say = LOUD_PUMPS

    def pump(self, inbox: Inbox, microphone: Microphone, process: Process) -> None:
        """A check of the microphone, with what is heard until then."""
        if self.source.plugged:
            loud = self._to_say > 0
            self._to_say -= loud
            sound = self._loud if loud else self._quiet
            self.source.speak(self._zeros if self._muted else sound)
        due_s = time.monotonic() + PATIENCE_S
        while not microphone._queue.empty() or microphone._in_hand_s is not None:
            demand(time.monotonic() < due_s, "the ear hangs")
            time.sleep(0.0)
        self.clock.sleep(BLOCKS * BLOCK / SPEECH_RATE_HZ)
        microphone.check()
        while (event := inbox.get(0)) is not None:
            process(event)

    def settle(self, speaker: Speaker) -> None:
        """What was to be said is said in no time."""
        demand(speaker.idle(PATIENCE_S), "the speaker does not come to an end")

    def faults(self) -> dict[str, Fault]:
        """The plug, the mute switch, the loudspeaker."""
        return {
            "unplugged": ("microphone", self._unplug, self._plug),
            "muted": ("microphone", self._mute, self._unmute),
            "loudspeaker": ("speaker", self.player.break_it, self.player.mend),
        }

    def _unplug(self) -> None:
        self.source.plugged = False

    def _plug(self) -> None:
        self.source.plugged = True

    def _mute(self) -> None:
        self._muted = True

    def _unmute(self) -> None:
        self._muted = False


class QuietPlayer:
    """Plays everything in no time and keeps nothing."""

    def __init__(self) -> None:
        self._broken = False

    def break_it(self) -> None:
        """From here on it plays nothing."""
        self._broken = True

    def mend(self) -> None:
        """It plays again."""
        self._broken = False

    def play(self, clip: Clip) -> Playing:
        """Play, or WorldFailedError while it is broken."""
        if self._broken:
            raise WorldFailedError("no speaker")
        return FakePlaying(ended=True)

    def ready(self) -> bool:
        """Unless it is broken."""
        return not self._broken


class OneHum:
    """A voice whose every sentence is the same short hum."""

    def prepare(self) -> None:
        """Always ready."""

    def make(self, text: str, pace_wpm: int = 0) -> Clip | None:
        """The hum."""
        return Clip(np.full(1600, 0.1, np.float32), SPEECH_RATE_HZ)

    def close(self) -> None:
        """Nothing to release."""


def by_false_clock(times: int, seed: int) -> Tally:
    """So many hours of it."""
    return hours(FakeWorld(), float(times), seed, "false clock")


# --- on a virtual card


class CardWorld:
    """A virtual card by the real clock, the real detector, the real synthesiser."""

    def __init__(self, card: virtual_card.VirtualCard) -> None:
        from assistant.recogniser.detector import Detector

        self._card = card
        self.clock = RealClock()
        devices = SoundCard()
        devices.refresh()
        self.source = CardSource(devices, virtual_card.MICROPHONE)
        self.player = CardPlayer(devices, virtual_card.SPEAKER)
        self.voice = SpokenVoice()
        self.detector = Detector()
        operator = SpokenVoice(name=OPERATOR, deadline_s=PATIENCE_S)
        made = operator.make("pressure sixty two pounds")
        operator.close()
        if made is None:
            raise WorldFailedError(f"no synthesiser: {operator.trouble}")
        self._words = made
        self._speaking: list[subprocess.Popen[bytes]] = []

    def start(self, microphone: Microphone) -> None:
        """Listen."""
        microphone.start()

    def say(self) -> None:
        """A sentence of another voice."""
        self._speaking = [one for one in self._speaking if one.poll() is None]
        self._speaking.append(self._card.speak(self._words))

    def pump(self, inbox: Inbox, microphone: Microphone, process: Process) -> None:
        """Wait for an event a little."""
        event = inbox.get(CHECK_S)
        if event is not None:
            process(event)

    def settle(self, speaker: Speaker) -> None:
        """It speaks while time goes on."""

    def faults(self) -> dict[str, Fault]:
        """The plug, the mute switch, the loudspeaker."""
        return {
            "unplugged": ("microphone", self._card.unplug, self._card.plug),
            "muted": ("microphone", self._card.mute, self._card.unmute),
            "loudspeaker": ("speaker", self._card.take_speaker, self._card.put_speaker),
        }


def on_a_card(times: int, seed: int) -> Tally:
    """So many hours of it; a failure where there is no virtual card."""
    tally = Tally()
    if why := virtual_card.why_absent():
        with tally.trial("a virtual card"):
            demand(False, why)
        return tally
    before = dict(os.environ)
    with tempfile.TemporaryDirectory(prefix="footplate-card-") as folder:
        card = virtual_card.VirtualCard(Path(folder))
        os.environ |= virtual_card.environment(card.folder)
        hissing = None
        try:
            card.start()
            hissing = card.hiss()
            return hours(CardWorld(card), float(times), seed, "virtual card")
        finally:
            if hissing is not None:
                os.killpg(hissing.pid, signal.SIGTERM)
                hissing.wait()
            card.stop()
            os.environ.clear()
            os.environ.update(before)
