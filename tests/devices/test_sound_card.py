"""Which sample rate a card is opened at, and what is said when it takes none. PortAudio faked."""

from __future__ import annotations

import contextlib
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from assistant.devices.clock import FakeClock
from assistant.devices.inbox import Inbox
from assistant.devices.microphone import CardSource, Microphone
from assistant.devices.recorder import record
from assistant.devices.sound import Samples
from assistant.devices.sound_card import NO_PORTAUDIO, SoundCard
from assistant.errors import WorldFailedError


class PortAudioError(Exception):
    """As PortAudio words it."""


class CallbackAbort(Exception):  # noqa: N818 - the library's own name
    """Raised by a callback that ends its stream."""


class FakePortAudio:
    """A card that takes only some rates; its microphone gives blocks when told to."""

    PortAudioError = PortAudioError
    CallbackAbort = CallbackAbort

    def __init__(self, takes_hz: tuple[int, ...], own_hz: int = 44_100, busy: bool = False) -> None:
        self.takes_hz = takes_hz
        self.own_hz = own_hz
        self.busy = busy
        self.asked_hz: list[int] = []
        self.open: list[FakeStream] = []
        self.started_anew = 0
        self.default = SimpleNamespace(device=(0, 0))

    def query_hostapis(self) -> list[dict[str, str]]:
        return [{"name": "ALSA"}]

    def query_devices(self) -> list[dict[str, Any]]:
        return [
            {
                "name": "USB Headset",
                "hostapi": 0,
                "max_input_channels": 1,
                "max_output_channels": 2,
                "default_samplerate": float(self.own_hz),
            }
        ]

    def _initialize(self) -> None:
        self.started_anew += 1

    def _terminate(self) -> None:
        assert not self.open, "PortAudio was ended under an open stream"

    def RawInputStream(self, **options: Any) -> FakeStream:  # noqa: N802
        self.asked_hz.append(options["samplerate"])
        if self.busy:
            raise PortAudioError("Error opening RawInputStream: Device unavailable", -9985)
        if options["samplerate"] not in self.takes_hz:
            raise PortAudioError("Error opening RawInputStream: Invalid sample rate", -9997)
        self.open.append(FakeStream(self, options["callback"]))
        return self.open[-1]


class FakeStream:
    """An open stream."""

    def __init__(self, library: FakePortAudio, callback: Callable[..., None]) -> None:
        self.library = library
        self.callback = callback

    active = False

    def start(self) -> None:
        for _ in range(20):
            self.callback(np.full(700, 0.1, np.float32).tobytes(), 700, None, None)

    def abort(self) -> None:
        pass

    def close(self) -> None:
        self.library.open.remove(self)


@pytest.mark.parametrize(
    ("takes_hz", "own_hz", "opened_hz"),
    [((16_000, 48_000), 48_000, 16_000), ((44_100,), 44_100, 44_100), ((48_000,), 44_100, 48_000)],
)
def test_the_ears_rate_is_wanted_then_the_cards_own_then_a_usual_one(
    takes_hz: tuple[int, ...], own_hz: int, opened_hz: int
) -> None:
    library = FakePortAudio(takes_hz, own_hz)
    card = SoundCard(library)
    stream = card.listen(card.find(None, "microphone"), lambda block: None)
    assert stream.rate_hz == opened_hz
    stream.close()
    stream.close()
    assert library.open == []


def test_a_card_that_takes_no_rate_is_told_in_one_line() -> None:
    card = SoundCard(FakePortAudio(()))
    with pytest.raises(WorldFailedError) as error:
        card.listen(card.find(None, "microphone"), lambda block: None)
    assert str(error.value) == (
        "the microphone 'USB Headset' cannot be opened: Invalid sample rate "
        "(16000, 44100, 48000, 32000, 8000 Hz were tried)"
    )


def test_a_busy_microphone_is_told_and_counts_as_there() -> None:
    library = FakePortAudio((16_000,))
    card = SoundCard(library)
    device = card.find(None, "microphone")
    library.busy = True
    with pytest.raises(WorldFailedError, match="Device unavailable"):
        card.listen(device, lambda block: None)
    assert library.asked_hz == [16_000]
    assert card.available(device, 16_000)


def test_a_microphone_at_another_rate_is_heard_at_the_ears() -> None:
    clock = FakeClock()
    lengths: list[int] = []
    enough = threading.Event()

    def feed(block: Samples, at_s: float) -> None:
        lengths.append(len(block))
        if len(lengths) == 7:
            enough.set()

    library = FakePortAudio((48_000,), 48_000)
    source = CardSource(SoundCard(library))
    microphone = Microphone(source, feed, Inbox(clock), clock)
    microphone.start()
    assert enough.wait(5.0)
    microphone.close()
    assert set(lengths) == {512}
    assert library.open == []


def test_devices_are_looked_for_anew_only_when_no_stream_is_open() -> None:
    library = FakePortAudio((16_000,))
    card = SoundCard(library)
    stream = card.listen(card.find(None, "microphone"), lambda block: None)
    assert not card.refresh()
    stream.close()
    assert card.refresh()
    assert library.started_anew == 1


def test_a_stream_opened_through_one_card_keeps_another_from_looking_anew() -> None:
    library = FakePortAudio((16_000,))
    ears, mouth = SoundCard(library), SoundCard(library)
    stream = ears.listen(ears.find(None, "microphone"), lambda block: None)
    assert not mouth.refresh()
    stream.close()
    assert mouth.refresh()


def test_a_recording_has_the_length_and_the_rate_that_the_card_gave() -> None:
    library = FakePortAudio((44_100, 16_000), own_hz=44_100)
    clip = record(CardSource(SoundCard(library), own_rate=True), 0.2)
    assert clip.rate_hz == 44_100
    assert clip.duration_s == pytest.approx(0.2, abs=1e-4)
    assert clip.samples == pytest.approx(0.1)
    assert library.open == []


def test_without_portaudio_one_line_names_the_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "sounddevice.py").write_text("raise OSError('PortAudio library not found')\n")
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delitem(sys.modules, "sounddevice", raising=False)
    with pytest.raises(WorldFailedError) as error:
        SoundCard()
    assert str(error.value) == NO_PORTAUDIO
    assert "libportaudio2" in NO_PORTAUDIO


class LiveStream(FakeStream):
    """A stream whose callback goes on, in a thread of the library, until it ends it itself."""

    active = True
    how = ""

    def start(self) -> None:
        threading.Thread(target=self._go_on, daemon=True).start()

    def _go_on(self) -> None:
        with contextlib.suppress(CallbackAbort):
            while True:
                self.callback(np.full(700, 0.1, np.float32).tobytes(), 700, None, None)
                threading.Event().wait(0.01)
        self.active = False

    def abort(self) -> None:
        self.how = "cancelled" if self.active else "ended by itself"


def test_a_stream_that_is_closed_ends_by_its_callback_before_it_is_aborted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    library = FakePortAudio((16_000,))
    monkeypatch.setitem(globals(), "FakeStream", LiveStream)
    card = SoundCard(library)
    stream = card.listen(card.find(None, "microphone"), lambda block: None)
    live = library.open[0]
    assert isinstance(live, LiveStream)
    stream.close()
    assert live.how == "ended by itself"
