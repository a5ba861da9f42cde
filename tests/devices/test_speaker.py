"""What cuts what off, how every utterance ends, and that ears are shut meanwhile."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest

from assistant.devices import speaker as speaker_module
from assistant.devices.clock import FakeClock
from assistant.devices.inbox import Inbox
from assistant.devices.player import FakePlayer, NoPlayer
from assistant.devices.sound import Clip
from assistant.devices.speaker import MOST_WAITING, FakeSpeaker, Speaker, paced
from assistant.devices.tone import tone
from assistant.devices.voice import FakeVoice
from assistant.messages import DeviceBack, DeviceLost, Event, Grade, Spoke, Urgency


@dataclass
class Stage:
    """A speaker with everything around it faked."""

    player: FakePlayer
    clock: FakeClock = field(default_factory=FakeClock)
    voice: FakeVoice = field(default_factory=FakeVoice)
    muted: list[bool] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.inbox = Inbox(self.clock)
        self.speaker = Speaker(self.voice, self.player, self.inbox, self.clock, self.muted.append)

    def events(self) -> list[Event]:
        """What was posted once everything was said."""
        assert self.speaker.idle(5.0)
        return drained(self.inbox)

    def until_playing(self, number: int) -> None:
        """Wait for the n-th sound to begin."""
        while len(self.player.playing) < number:
            assert self.player.began.acquire(timeout=5.0), f"sound {number} never began"


@pytest.fixture
def quick() -> Iterator[Stage]:
    stage = Stage(FakePlayer())
    yield stage
    stage.speaker.close()


@pytest.fixture
def slow() -> Iterator[Stage]:
    stage = Stage(FakePlayer(at_once=False))
    yield stage
    stage.speaker.close()


def drained(inbox: Inbox) -> list[Event]:
    events: list[Event] = []
    while (event := inbox.get(0)) is not None:
        events.append(event)
    return events


def ends(events: list[Event]) -> list[tuple[str, str]]:
    return [(event.text, event.ended) for event in events if isinstance(event, Spoke)]


def test_sentences_are_said_in_turn(quick: Stage) -> None:
    quick.speaker.say("one")
    quick.speaker.say("two")
    assert ends(quick.events()) == [("one", "said"), ("two", "said")]
    quick.speaker.close()
    assert True in quick.muted
    assert quick.muted[-1] is False


def test_a_danger_cuts_a_prompt_and_is_said_before_what_waits(slow: Stage) -> None:
    slow.speaker.say("long prompt", Urgency.PROMPT)
    slow.until_playing(1)
    slow.speaker.say("next prompt", Urgency.PROMPT)
    slow.speaker.tone(Grade.DANGER)
    slow.speaker.say("Danger. Water low.", Urgency.DANGER)
    for number in (2, 3, 4):
        slow.until_playing(number)
        slow.player.playing[number - 1].end()
    assert ends(slow.events()) == [
        ("long prompt", "cut"),
        ("Danger. Water low.", "said"),
        ("next prompt", "said"),
    ]
    assert (slow.player.played[1].samples == tone(Grade.DANGER).samples).all()


def test_a_lower_or_equal_urgency_waits(slow: Stage) -> None:
    slow.speaker.say("answer", Urgency.ANSWER)
    slow.until_playing(1)
    slow.speaker.say("chat", Urgency.CHAT)
    slow.speaker.say("another answer", Urgency.ANSWER)
    assert len(slow.player.playing) == 1
    for number in (1, 2, 3):
        slow.until_playing(number)
        slow.player.playing[number - 1].end()
    said = [text for text, _ in ends(slow.events())]
    assert said == ["answer", "another answer", "chat"]


def test_hush_ends_what_is_said_and_forgets_what_waits(slow: Stage) -> None:
    slow.speaker.say("speaking")
    slow.until_playing(1)
    slow.speaker.say("waiting")
    slow.speaker.hush()
    assert sorted(ends(slow.events())) == [("speaking", "cut"), ("waiting", "cut")]
    assert len(slow.player.playing) == 1
    slow.speaker.close()
    assert slow.muted[-1] is False


def test_a_forecast_that_waited_too_long_is_not_said(slow: Stage) -> None:
    slow.speaker.say("answer", Urgency.ANSWER)
    slow.until_playing(1)
    slow.speaker.say("twelve minutes", Urgency.CHAT)
    slow.clock.sleep(30.0)
    slow.player.playing[0].end()
    assert ends(slow.events()) == [("answer", "said"), ("twelve minutes", "cut")]


def test_words_that_cannot_be_made_become_the_tone_of_their_urgency() -> None:
    stage = Stage(FakePlayer(), voice=FakeVoice(fails=lambda text: True))
    stage.speaker.say("Danger. Water low.", Urgency.DANGER)
    assert ends(stage.events()) == [("Danger. Water low.", "failed")]
    assert (stage.player.played[0].samples == tone(Grade.DANGER).samples).all()
    stage.speaker.close()


def test_without_a_speaker_every_word_fails_at_once_and_it_is_told_once() -> None:
    clock = FakeClock()
    inbox = Inbox(clock)
    speaker = Speaker(FakeVoice(), NoPlayer("no speaker here"), inbox, clock)
    speaker.say("one")
    speaker.say("two")
    assert speaker.idle(5.0)
    speaker.close()
    events = drained(inbox)
    assert ends(events) == [("one", "failed"), ("two", "failed")]
    assert [event for event in events if isinstance(event, DeviceLost)] == [
        DeviceLost(0.0, "speaker", "no speaker here")
    ]


def test_a_speaker_that_works_again_is_told(quick: Stage) -> None:
    quick.player.broken = True
    quick.speaker.say("one")
    assert quick.speaker.idle(5.0)
    quick.player.broken = False
    quick.speaker.say("two")
    events = quick.events()
    assert ends(events) == [("one", "failed"), ("two", "said")]
    assert DeviceBack(0.0, "speaker") in events


def test_a_speaker_that_is_back_is_told_without_a_sound(
    quick: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(speaker_module, "TRY_S", 0.02)
    quick.player.broken = True
    quick.speaker.say("one")
    assert quick.speaker.idle(5.0)
    assert [type(event) for event in drained(quick.inbox)] == [DeviceLost, Spoke]
    assert quick.inbox.get(0.1) is None  # tried some times meanwhile
    quick.player.broken = False
    assert quick.inbox.get(5.0) == DeviceBack(0.0, "speaker")
    assert quick.player.played == []
    assert quick.inbox.get(0.1) is None


def test_a_speaker_that_was_told_lost_before_is_told_back_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(speaker_module, "TRY_S", 0.02)
    clock = FakeClock()
    inbox = Inbox(clock)
    speaker = Speaker(FakeVoice(), FakePlayer(), inbox, clock, lost=True)
    assert inbox.get(5.0) == DeviceBack(0.0, "speaker")
    assert inbox.get(0.1) is None
    speaker.close()


class NeverTried(FakePlayer):
    """A broken one whose trial does not return before `go`."""

    def __init__(self) -> None:
        super().__init__(broken=True)
        self.trying, self.go = threading.Event(), threading.Event()

    def ready(self) -> bool:
        self.trying.set()
        return self.go.wait(60.0) and super().ready()


def test_a_trial_that_hangs_does_not_hold_the_close(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(speaker_module, "TRY_S", 0.02)
    player = NeverTried()
    stage = Stage(player)
    stage.speaker.tone(Grade.CAUTION)
    assert player.trying.wait(5.0)
    stage.speaker.tone(Grade.DANGER)
    closing = threading.Thread(target=stage.speaker.close, daemon=True)
    closing.start()
    closing.join(5.0)
    assert not closing.is_alive()
    player.go.set()


def test_numbers_are_read_back_slower_than_the_rest() -> None:
    assert dict(paced("Pressure. Seven five. Seventy five.", Urgency.ANSWER)) == {
        "Pressure.": 140,
        "Seven five.": 100,
        "Seventy five.": 100,
    }
    assert {pace for _, pace in paced("Wait twelve minutes.", Urgency.PROMPT)} == {140}


def test_the_fake_speaks_without_waiting() -> None:
    inbox = Inbox(FakeClock())
    speaker = FakeSpeaker(inbox)
    speaker.say("hello")
    assert inbox.get(0) == Spoke(0.0, "hello")


def test_nothing_hangs_when_closed_in_the_middle(slow: Stage) -> None:
    slow.speaker.say("speaking")
    slow.until_playing(1)
    slow.speaker.close()
    assert ends(drained(slow.inbox)) == [("speaking", "cut")]


class SlowVoice(FakeVoice):
    """A synthesiser that makes nothing until it is let."""

    def __init__(self) -> None:
        super().__init__()
        self.asked = threading.Semaphore(0)
        self.let = threading.Semaphore(0)

    def make(self, text: str, pace_wpm: int = 140) -> Clip | None:
        """Wait, then as always."""
        self.asked.release()
        assert self.let.acquire(timeout=5.0)
        return super().make(text, pace_wpm)


def test_the_tone_of_a_danger_waits_for_no_words_being_made() -> None:
    voice = SlowVoice()
    stage = Stage(FakePlayer(), voice=voice)
    stage.speaker.say("One. Two. Three. Four.", Urgency.PROMPT)
    assert voice.asked.acquire(timeout=5.0)  # the first sentence is being made
    stage.speaker.tone(Grade.DANGER)
    assert stage.player.began.acquire(timeout=5.0)
    assert stage.player.played[0].duration_s == tone(Grade.DANGER).duration_s
    stage.speaker.say("Danger. Water low.", Urgency.DANGER)
    for _ in range(3):
        voice.let.release()
    assert ("Danger. Water low.", "said") in ends(stage.events())
    assert [text for text, _ in voice.made] == ["One.", "Danger.", "Water low."], "dropped with it"
    stage.speaker.close()


def test_a_sound_that_never_ends_is_told(slow: Stage) -> None:
    slow.speaker.say("long prompt")
    slow.until_playing(1)
    assert slow.speaker.trouble() == ""
    slow.clock.sleep(30.0)
    assert slow.speaker.trouble() == "the loudspeaker does not go on"
    slow.player.playing[0].end()
    assert ends(slow.events()) == [("long prompt", "said")]
    assert slow.speaker.trouble() == ""


def test_of_far_too_many_the_least_urgent_are_dropped(slow: Stage) -> None:
    slow.speaker.say("first", Urgency.DANGER)
    slow.until_playing(1)
    for number in range(MOST_WAITING):
        slow.speaker.say(f"prompt {number}")
    slow.speaker.say("Danger. Water low.", Urgency.DANGER)
    cut = ends(drained(slow.inbox))
    assert cut == [(f"prompt {MOST_WAITING - 1}", "cut")]
    slow.speaker.hush()
