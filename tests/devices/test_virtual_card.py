"""The real path through PortAudio, on a virtual sound card: speak, hear, unplug, hush."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from queue import SimpleQueue

import numpy as np
import pytest
from delays import within

from assistant.devices.barge_in import BargeInDetector
from assistant.devices.clock import RealClock
from assistant.devices.device_trial import passes
from assistant.devices.echo_canceller import EchoReference
from assistant.devices.inbox import Inbox
from assistant.devices.listener import Detector as AnyDetector
from assistant.devices.listener import Listener
from assistant.devices.microphone import CardSource, Microphone
from assistant.devices.player import CardPlayer
from assistant.devices.sound import Clip, Samples, at_rate
from assistant.devices.sound_card import SoundCard
from assistant.devices.speaker import Speaker
from assistant.devices.tone import tone
from assistant.devices.voice import FakeVoice, SpokenVoice
from assistant.errors import InputWrongError, WorldFailedError
from assistant.lab.faults.level_detector import LevelDetector
from assistant.lab.faults.virtual_card import MICROPHONE, OVERHEARS, RATE_HZ, SPEAKER, VirtualCard
from assistant.messages import DeviceBack, DeviceLost, Event, Grade, Heard, SpeechBegan, Spoke
from assistant.recogniser.detector import Detector

# PortAudio, a sound server and what a person would notice, all by the real clock.
pytestmark = [pytest.mark.sound, pytest.mark.real]


def buzz(seconds: float, rate_hz: int = 16_000) -> Clip:
    t = np.arange(int(seconds * rate_hz)) / rate_hz
    wave = 0.5 * np.sign(np.sin(2 * np.pi * 200 * t)) * (0.6 + 0.4 * np.sin(2 * np.pi * 3 * t))
    return Clip(wave.astype(np.float32), rate_hz)


def hiss(seconds: float) -> Clip:
    noise = np.random.default_rng(2).normal(0, 0.01, int(seconds * 16_000))
    return Clip(noise.astype(np.float32), 16_000)


class Live:
    """A live microphone of the virtual card with a detector behind it."""

    def __init__(
        self, card: SoundCard, name: str = MICROPHONE, detector: AnyDetector | None = None
    ) -> None:
        self.clock = RealClock()
        self.inbox = Inbox(self.clock)
        self.sounds: SimpleQueue[Samples] = SimpleQueue()
        self.blocks = 0
        self.loudest = 0.0
        self.listener = Listener(detector or LevelDetector(), self.hear, self.inbox)
        source = CardSource(card, name)
        self.microphone = Microphone(source, self.feed, self.inbox, self.clock)

    def feed(self, block: Samples, at_s: float) -> None:
        self.blocks += 1
        self.loudest = max(self.loudest, float(np.abs(block).max()))
        self.listener.feed(block, at_s)

    def hear(self, sound: Samples) -> Heard:
        self.sounds.put(sound)
        return Heard(0.0, "level", (), audio_s=len(sound) / 16_000)

    def wait(self, found: Callable[[], bool], seconds: float) -> None:
        end = time.monotonic() + seconds
        while not found():
            assert time.monotonic() < end, "it never came"
            time.sleep(0.02)


@pytest.fixture
def live(card: SoundCard) -> Iterator[Live]:
    live = Live(card)
    live.microphone.start()
    yield live
    live.microphone.close()


def test_devices_are_listed_by_name(card: SoundCard) -> None:
    names = [device.name for device in card.devices()]
    assert MICROPHONE in names and SPEAKER in names
    assert card.find(MICROPHONE, "microphone").name == MICROPHONE
    with pytest.raises(InputWrongError, match=f"did you mean '{MICROPHONE}'"):
        card.find("cab_mikrophone", "microphone")


def test_words_played_into_the_microphone_reach_the_recogniser(
    sound_server: VirtualCard, live: Live
) -> None:
    live.wait(lambda: live.blocks > 3, 8.0)
    spoken = sound_server.speak(buzz(1.0))
    events = [live.inbox.get(8.0)]
    while not isinstance(events[-1], Heard):
        events.append(live.inbox.get(8.0))
    spoken.wait(5.0)
    assert isinstance(events[0], SpeechBegan)
    sound = live.sounds.get(timeout=1.0)
    assert len(sound) / 16_000 == pytest.approx(1.0, abs=0.2)
    spectrum = np.abs(np.fft.rfft(sound))
    assert np.argmax(spectrum) * 16_000 / len(sound) == pytest.approx(200, abs=5)


def test_spoken_words_reach_the_real_detector_and_their_end_is_found_within_800_ms(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    """Human-factors requirement 23, by a voice in a quiet room, on the real path."""
    voice = SpokenVoice(deadline_s=20.0)
    words = voice.make("pressure seventy five pounds")
    voice.close()
    if words is None:
        pytest.skip(f"no synthesiser: {voice.trouble}")
    room = 0.2 * hiss(8.0).samples
    said = at_rate(words, 16_000).samples
    said = said[: np.flatnonzero(np.abs(said) > 0.02)[-1]]
    room[48_000 : 48_000 + len(said)] += 0.5 * said
    live = Live(card, detector=Detector())
    live.microphone.start()
    live.wait(lambda: live.blocks > 3, 8.0)
    spoken = sound_server.speak(Clip(room, 16_000))
    loud_s = 0.0
    heard = None
    while heard is None:
        heard = next((e for e in drained(live.inbox) if isinstance(e, Heard)), None)
        if live.loudest > 0.015:
            live.loudest = 0.0
            loud_s = live.clock.now()
        assert live.clock.now() < 20.0, "no utterance was found"
        time.sleep(0.01)
    live.microphone.close()
    spoken.terminate()
    spoken.wait(5.0)
    assert heard.audio_s == pytest.approx(len(said) / 16_000, abs=0.9)
    assert heard.at - loud_s <= 0.8


def test_unplugging_is_announced_within_2_s_and_recovered_from_within_5(
    sound_server: VirtualCard, live: Live
) -> None:
    """Human-factors requirement 7, with sound in the room as there always is by an engine."""
    background = sound_server.speak(hiss(60.0))
    live.wait(lambda: live.loudest > 0, 8.0)
    backs_s: list[float] = []

    def unplug_and_plug() -> float:
        time.sleep(1.0)
        drained(live.inbox)
        pulled_s = live.clock.now()
        sound_server.unplug()
        next_of(live.inbox, DeviceLost)
        told_s = live.clock.now() - pulled_s
        time.sleep(2.0)
        mended_s = live.clock.now()
        sound_server.plug()
        next_of(live.inbox, DeviceBack)
        backs_s.append(live.clock.now() - mended_s)
        return told_s

    assert within(2.0, unplug_and_plug) <= 2.0
    assert min(backs_s) <= 5.0
    background.terminate()
    background.wait(5.0)
    live.loudest = 0.0
    spoken = sound_server.speak(buzz(0.5))
    live.wait(lambda: live.loudest > 0.1, 5.0)
    spoken.wait(5.0)


def test_unplugging_in_digital_silence_is_announced_too(
    sound_server: VirtualCard, live: Live
) -> None:
    live.wait(lambda: live.blocks > 3, 8.0)
    time.sleep(2.0)
    assert live.inbox.get(0) is None

    def unplug() -> float:
        pulled_s = live.clock.now()
        sound_server.unplug()
        try:
            lost = next_of(live.inbox, DeviceLost)
        finally:
            sound_server.plug()
        next_of(live.inbox, DeviceBack)
        return lost.at - pulled_s

    assert within(2.0, unplug) <= 2.0


def next_of(inbox: Inbox, kind: type[DeviceLost] | type[DeviceBack]) -> DeviceLost | DeviceBack:
    end = time.monotonic() + 10.0
    while time.monotonic() < end:
        event = inbox.get(0.5)
        if isinstance(event, kind):
            return event
    raise AssertionError(f"no {kind.__name__} within 10 s")


def test_what_is_played_comes_out_of_the_speaker(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    with sound_server.record() as recording:
        began_s = time.monotonic()
        assert CardPlayer(card, SPEAKER).play(tone(Grade.DANGER)).wait() == "said"
        assert time.monotonic() - began_s < 2.0
        recording.wait_loud(5.0)
        recording.wait_quiet(5.0)  # a virtual speaker may hold back the end
        recorded = recording.samples()
    loud = np.flatnonzero(np.abs(recorded) > 0.02)
    inside = recorded[loud[0] : loud[-1]]
    assert len(inside) / RATE_HZ == pytest.approx(0.47, abs=0.03)
    spectrum = np.abs(np.fft.rfft(inside))
    assert 600 < np.argmax(spectrum) * RATE_HZ / len(inside) < 900


def test_hush_is_silent_within_200_ms(sound_server: VirtualCard, card: SoundCard) -> None:
    clock = RealClock()
    inbox = Inbox(clock)
    speaker = Speaker(FakeVoice(), CardPlayer(card, SPEAKER), inbox, clock)

    def hush() -> float:
        """The later of silence from the speaker and word of it."""
        with sound_server.record() as recording:
            speaker.say(" ".join(["a very long sentence"] * 10))
            recording.wait_loud(8.0)
            time.sleep(1.0)
            hushed_s = time.monotonic()
            speaker.hush()
            event = inbox.get(2.0)
            reported_s = time.monotonic() - hushed_s
            time.sleep(2.0)
            assert isinstance(event, Spoke) and event.ended == "cut"
            return max(reported_s, recording.last_loud_s() - hushed_s)

    assert within(0.2, hush) <= 0.2
    speaker.close()


def test_a_loudspeaker_that_is_put_back_is_told_within_5_s_without_a_sound(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    clock = RealClock()
    inbox, player = Inbox(clock), CardPlayer(card, SPEAKER)
    speaker = Speaker(FakeVoice(), player, inbox, clock)

    def come_back() -> float:
        sound_server.take_speaker()
        try:
            speaker.tone(Grade.CAUTION)
            next_of(inbox, DeviceLost)
            assert not player.ready()
        finally:
            sound_server.put_speaker()
        put_s = time.monotonic()
        next_of(inbox, DeviceBack)
        return time.monotonic() - put_s

    assert within(5.0, come_back) <= 5.0
    speaker.close()


def test_a_device_that_is_gone_fails_its_trial_one_in_use_passes(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    stream = card.listen(card.find(MICROPHONE, "microphone"), lambda block: None)
    assert passes("microphone", MICROPHONE)
    stream.close()
    sound_server.unplug()
    try:
        assert not passes("microphone", MICROPHONE)
    finally:
        sound_server.plug()
    assert passes("speaker", SPEAKER)
    assert passes("plays", SPEAKER)
    sound_server.take_speaker()
    try:
        assert not passes("speaker", SPEAKER)
    finally:
        sound_server.put_speaker()
    assert not passes("speaker", "no such thing")


def test_a_long_sentence_plays_to_its_end_when_nobody_else_uses_the_server(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    """A server with nothing to do wakes seldom, and a short buffer runs dry meanwhile."""
    clip = Clip(np.tile(tone(Grade.CAUTION).samples, 8), 22_050)
    began_s = time.monotonic()
    assert CardPlayer(card, SPEAKER).play(clip).wait() == "said"
    assert 3.9 <= time.monotonic() - began_s <= 6.0


def test_a_danger_tone_is_out_within_half_a_second(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    """Human-factors requirement 2, the part of it that is the devices'."""
    clock = RealClock()
    speaker = Speaker(FakeVoice(), CardPlayer(card, SPEAKER), Inbox(clock), clock)

    def sound_it() -> float:
        with sound_server.record() as recording:
            asked_s = time.monotonic()
            speaker.tone(Grade.DANGER)
            came_s = recording.wait_loud(5.0)
            assert speaker.idle(5.0)
            return came_s - asked_s

    assert within(0.5, sound_it) <= 0.5
    speaker.close()


def test_the_own_voice_from_the_speaker_is_never_heard_but_a_persons_is(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    """The microphone hears nothing but the speaker, as loud as it gets."""
    live = Live(card, OVERHEARS)
    live.microphone.start()
    speaker = Speaker(
        FakeVoice(), CardPlayer(card, SPEAKER), live.inbox, live.clock, live.listener.speaking
    )
    live.wait(lambda: live.blocks > 3, 8.0)
    for text in ("the water is low", "drop the fire", "say that again if you please"):
        speaker.say(text)
    assert speaker.idle(15.0)
    time.sleep(1.0)
    heard_own = live.loudest
    events = drained(live.inbox)
    spoken = sound_server.speak(buzz(0.6), into="out_sink")
    live.wait(lambda: live.sounds.qsize() > 0, 8.0)
    spoken.wait(5.0)
    speaker.close()
    live.microphone.close()
    assert heard_own > 0.1, "the microphone did not hear the speaker, so nothing was shown"
    assert {type(event) for event in events} == {Spoke}


def test_a_word_over_the_own_voice_reaches_the_recogniser_of_stop_words(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    """The loudest echo there can be: the microphone hears the speaker itself."""
    voice = SpokenVoice(deadline_s=20.0)
    word = SpokenVoice(name="gmw/en-us", deadline_s=20.0)
    stop = word.make("stop talking")
    word.close()
    if stop is None:
        pytest.skip(f"no synthesiser: {word.trouble}")
    live = Live(card, OVERHEARS)
    own = EchoReference(live.clock)
    over: list[tuple[float, Samples]] = []

    def hear_stop_words(sound: Samples) -> None:
        over.append((live.clock.now(), sound))

    live.listener = Listener(
        LevelDetector(), live.hear, live.inbox, hear_stop_words, barge_in=BargeInDetector(own)
    )
    live.microphone.start()
    speaker = Speaker(
        voice, CardPlayer(card, SPEAKER), live.inbox, live.clock, live.listener.speaking, own
    )
    live.wait(lambda: live.blocks > 3, 8.0)
    speaker.say(
        "The water is rising by itself as it warms, not by feed. Put a little more coal on, and "
        "shut the damper half way. Open the drains before you move the engine."
    )
    live.wait(lambda: live.loudest > 0.1, 8.0)
    time.sleep(4.0)
    alone = len(over)
    spoken = sound_server.speak(stop, into="out_sink")
    spoken.wait(5.0)
    said_s = live.clock.now()
    live.wait(lambda: len(over) > alone, 6.0)
    speaker.close()
    live.microphone.close()
    assert alone == 0, "the own voice was taken for somebody else's"
    assert over[0][0] - said_s <= 1.5
    assert {type(event) for event in drained(live.inbox)} == {Spoke}


def drained(inbox: Inbox) -> list[Event]:
    events = []
    while (event := inbox.get(0)) is not None:
        events.append(event)
    return events


def test_a_microphone_that_is_not_there_is_one_clear_line(
    sound_server: VirtualCard, card: SoundCard
) -> None:
    sound_server.unplug()
    try:
        with pytest.raises(WorldFailedError, match="cannot be opened") as error:
            CardSource(card, MICROPHONE).open(lambda block: None)
    finally:
        sound_server.plug()
    assert "\n" not in str(error.value)


def test_nothing_of_the_sound_library_reaches_the_persons_screen(
    sound_server: VirtualCard, card: SoundCard, capfd: pytest.CaptureFixture[str]
) -> None:
    sound_server.unplug()
    try:
        with pytest.raises(WorldFailedError):
            CardSource(card, MICROPHONE).open(lambda block: None)
    finally:
        sound_server.plug()
    assert capfd.readouterr().err == ""
