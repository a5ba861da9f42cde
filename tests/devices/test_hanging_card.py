"""A sound library whose calls never return holds up nobody. PortAudio faked."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable, Iterator
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from timing import until

from assistant.devices import sound_card
from assistant.devices.clock import FakeClock, RealClock
from assistant.devices.inbox import Inbox
from assistant.devices.microphone import CardSource, Microphone
from assistant.devices.player import CardPlayer
from assistant.devices.sound import Clip
from assistant.devices.sound_card import HANGS, MOST_LEFT, SoundCard
from assistant.devices.speaker import Speaker
from assistant.devices.voice import FakeVoice
from assistant.devices.watchdog import NO_BLOCKS_S
from assistant.errors import WorldFailedError
from assistant.messages import DeviceLost, Grade

pytestmark = pytest.mark.real  # how long a call hangs is read off the clock

BOUND_S = 0.05  # in the place of the program's seconds
SOON_S = 5.0


class PortAudioError(Exception):
    """As PortAudio words it."""


class CallbackAbort(Exception):  # noqa: N818 - the library's own name
    """Raised by a callback that ends its stream."""


class HangingPortAudio:
    """One headset. Calls named in `hangs` do not return before `go`."""

    PortAudioError = PortAudioError
    CallbackAbort = CallbackAbort

    def __init__(self) -> None:
        self.go = threading.Event()
        self.hangs: set[str] = set()
        self.open: list[HangingStream] = []
        self.opened = self.listings = 0
        self.went = threading.Semaphore(0)
        self.default = SimpleNamespace(device=(0, 0))

    def passes(self, call: str) -> None:
        """Return at once, or not before `go`."""
        if call in self.hangs:
            assert self.go.wait(60.0), f"{call} was never let go"
            self.went.release()

    def query_hostapis(self) -> list[dict[str, str]]:
        return [{"name": "ALSA"}]

    def query_devices(self) -> list[dict[str, Any]]:
        return [
            {
                "name": "Headset",
                "hostapi": 0,
                "max_input_channels": 1,
                "max_output_channels": 1,
                "default_samplerate": 16_000.0,
            }
        ]

    def _initialize(self) -> None:
        self.passes("list")
        self.listings += 1

    def _terminate(self) -> None:
        assert not self.open, "PortAudio was ended under an open stream"

    def RawInputStream(self, **options: Any) -> HangingStream:  # noqa: N802
        return self._opened("microphone")

    def OutputStream(self, **options: Any) -> HangingStream:  # noqa: N802
        return self._opened("speaker")

    def _opened(self, direction: str) -> HangingStream:
        self.passes(f"open {direction}")
        self.opened += 1
        self.open.append(HangingStream(self, direction))
        return self.open[-1]


class HangingStream:
    """An open stream; no sound comes from it."""

    active = False

    def __init__(self, library: HangingPortAudio, direction: str) -> None:
        self._library, self._direction = library, direction

    def start(self) -> None:
        self._library.passes(f"start {self._direction}")

    def abort(self) -> None:
        self._library.passes(f"close {self._direction}")

    def close(self) -> None:
        self._library.open.remove(self)


@pytest.fixture
def library(monkeypatch: pytest.MonkeyPatch) -> Iterator[HangingPortAudio]:
    """Everything that hangs in a test goes on at its end, and leaves nothing behind."""
    for bound in ("CALL_S", "LIST_S", "CLOSE_S"):
        monkeypatch.setattr(sound_card, bound, BOUND_S)
    library = HangingPortAudio()
    yield library
    library.hangs.clear()
    library.go.set()
    until(lambda: not SoundCard._left and not SoundCard._open_streams)
    assert library.open == []


def ends_soon(work: Callable[[], object]) -> None:
    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    thread.join(SOON_S)
    assert not thread.is_alive(), "it hangs"


def played(card: SoundCard) -> str:
    """How a sound ends that is hushed at once."""
    playing = CardPlayer(card).play(Clip(np.zeros(160, np.float32), 16_000))
    playing.hush()
    return playing.wait()


def hear_nothing(block: bytes) -> None:
    """Blocks are of no interest."""


def test_a_start_that_hangs_fails_and_leaves_the_rest_of_the_card_to_others(
    library: HangingPortAudio,
) -> None:
    card, other = SoundCard(library), SoundCard(library)
    library.hangs = {"start microphone"}
    with pytest.raises(WorldFailedError, match=r"starting .* has not returned"):
        card.listen(card.find(None, "microphone"), hear_nothing)
    library.hangs = set()
    stream = other.listen(other.find(None, "microphone"), hear_nothing)
    stream.close()
    assert len(library.open) == 1, "the stream that hangs was touched"
    assert not other.refresh(), "PortAudio would be ended under it"
    with pytest.raises(WorldFailedError, match="start the program again"):
        other.find("Another", "speaker")
    library.go.set()
    until(lambda: not library.open and not SoundCard._open_streams)
    assert other.refresh()


def test_an_opening_that_hangs_keeps_others_from_opening_not_from_an_answer(
    library: HangingPortAudio,
) -> None:
    card = SoundCard(library)
    device = card.find(None, "speaker")
    library.hangs = {"open microphone"}
    with pytest.raises(WorldFailedError, match="opening the microphone 'Headset' has not returned"):
        card.listen(device, hear_nothing)
    for _ in range(3):
        with pytest.raises(WorldFailedError) as error:
            card.listen(device, hear_nothing)
        assert str(error.value) == HANGS
    assert not card.available(device, 16_000)
    assert library.opened == 0
    library.go.set()
    until(lambda: SoundCard._left == 0 and library.opened == 1 and not library.open)
    card.listen(device, hear_nothing).close()


def test_a_microphone_is_not_called_lost_because_a_speaker_hangs(
    library: HangingPortAudio,
) -> None:
    card = SoundCard(library)
    device = card.find(None, "microphone")
    library.hangs = {"open speaker"}
    with pytest.raises(WorldFailedError, match="has not returned"):
        card._stream(device, "speaker", hear_nothing, 16_000)
    assert card.available(device, 16_000)
    assert not card.available(device, 16_000, "speaker")


def test_a_microphone_whose_trial_hangs_is_lost(library: HangingPortAudio) -> None:
    card = SoundCard(library)
    library.hangs = {"open microphone"}
    device = card.find(None, "microphone")
    assert [card.available(device, 16_000) for _ in range(2)] == [False, False]


def test_a_close_that_hangs_returns_all_the_same(library: HangingPortAudio) -> None:
    card = SoundCard(library)
    stream = card.listen(card.find(None, "microphone"), hear_nothing)
    library.hangs = {"close microphone"}
    ends_soon(stream.close)
    assert not card.refresh()
    library.go.set()
    until(lambda: SoundCard._open_streams == 0)
    assert card.refresh()


def test_a_close_that_hangs_keeps_nobody_else_waiting(library: HangingPortAudio) -> None:
    card = SoundCard(library)
    microphone = card.listen(card.find(None, "microphone"), hear_nothing)
    library.hangs = {"close microphone"}
    ends_soon(microphone.close)
    device = card.find(None, "speaker")
    assert card.devices() == (device,)
    library.hangs = set()
    card.listen(device, hear_nothing).close()
    assert played(card) == "cut"
    assert len(library.open) == 1, "the one that hangs"
    assert not SoundCard.hangs()


def test_a_close_beside_a_call_that_takes_long_is_made_after_it(
    library: HangingPortAudio,
) -> None:
    card = SoundCard(library)
    stream = card.listen(card.find(None, "microphone"), hear_nothing)
    with SoundCard._lock:
        ends_soon(stream.close)
        assert len(library.open) == 1
    until(lambda: not library.open)


def test_a_listing_that_hangs_is_told_and_later_made_good(library: HangingPortAudio) -> None:
    card = SoundCard(library)
    library.hangs = {"list"}
    with pytest.raises(WorldFailedError, match="listing the devices has not returned"):
        card.refresh()
    assert not card.refresh()
    with pytest.raises(WorldFailedError) as error:
        card.devices()
    assert str(error.value) == HANGS
    library.go.set()
    until(lambda: SoundCard._left == 0)
    assert card.refresh()
    assert library.listings == 2


@pytest.mark.parametrize("call", ["list", "open microphone", "open speaker"])
def test_what_keeps_devices_from_being_opened_for_long_shows_without_another_call(
    library: HangingPortAudio, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    monkeypatch.setattr(sound_card, "HANGS_S", BOUND_S)
    card = SoundCard(library)
    device = card.find(None, "speaker")
    library.hangs = {call}
    with pytest.raises(WorldFailedError, match="has not returned"):
        card.refresh()
        card._stream(device, "microphone", hear_nothing, 16_000).close()
        card._stream(device, "speaker", hear_nothing, 16_000)
    with monkeypatch.context() as patience:
        patience.setattr(sound_card, "HANGS_S", 3600.0)
        assert not SoundCard.hangs()
    until(SoundCard.hangs)
    library.go.set()
    until(lambda: not SoundCard._left)
    assert not SoundCard.hangs(), "it came back"


def test_calls_that_hang_do_not_pile_up(library: HangingPortAudio) -> None:
    card = SoundCard(library)
    device = card.find(None, "microphone")
    library.hangs = {"start microphone"}
    told = []
    for _ in range(MOST_LEFT + 3):
        with pytest.raises(WorldFailedError) as error:
            card.listen(device, hear_nothing)
        told.append(HANGS in str(error.value))
    assert library.opened == MOST_LEFT
    assert told == [False] * (MOST_LEFT - 1) + [True] * 4
    assert not CardPlayer(card, trial=lambda how, name: True).ready(), (
        "told back, but nothing can be opened"
    )


def test_beside_a_speaker_that_hangs_the_microphone_is_watched_and_the_close_ends(
    library: HangingPortAudio,
) -> None:
    card, clock = SoundCard(library), RealClock()
    inbox = Inbox(clock)
    microphone = Microphone(CardSource(card), lambda block, at_s: None, inbox, clock)
    microphone.start()
    library.hangs = {"start speaker"}
    speaker = Speaker(FakeVoice(), CardPlayer(card, trial=lambda how, name: False), inbox, clock)
    speaker.tone(Grade.DANGER)
    lost = [inbox.get(SOON_S), inbox.get(SOON_S)]
    assert {event.device for event in lost if isinstance(event, DeviceLost)} == {
        "speaker",
        "microphone",  # no block ever came from it
    }
    ends_soon(speaker.close)
    ends_soon(microphone.close)


@pytest.mark.parametrize("call", ["open speaker", "start speaker", "close speaker"])
def test_a_microphone_is_lost_and_closed_beside_a_call_that_hangs(
    library: HangingPortAudio, call: str
) -> None:
    card, clock = SoundCard(library), FakeClock()
    inbox = Inbox(clock)
    microphone = Microphone(CardSource(card), lambda block, at_s: None, inbox, clock)
    microphone.open()
    library.hangs = {call}
    with contextlib.suppress(WorldFailedError):
        played(card)
    assert SoundCard._left == 1

    def lose() -> None:
        for _ in range(3):
            clock.move_to(clock.now() + NO_BLOCKS_S + 0.1)
            microphone.check()

    ends_soon(lose)
    ends_soon(microphone.close)
    event = inbox.get(SOON_S)
    assert isinstance(event, DeviceLost)
    assert event.device == "microphone"


def test_a_microphone_is_closed_though_its_card_hangs(library: HangingPortAudio) -> None:
    clock = FakeClock()
    source = CardSource(SoundCard(library))
    microphone = Microphone(source, lambda block, at_s: None, Inbox(clock), clock)
    microphone.start()
    library.hangs = {"close microphone", "open microphone"}
    ends_soon(microphone.close)
