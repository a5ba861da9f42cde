"""Effects to the speaker: words, tones and silence in order; nothing where there is no speaker."""

from __future__ import annotations

from assistant.commands.aloud import SpeechPerformer
from assistant.messages import Effect, Expected, Grade, Hush, Listen, Say, Tone, Urgency

EFFECTS: tuple[Effect, ...] = (
    Say("Water low.", Urgency.DANGER),
    Tone(Grade.DANGER),
    Listen(Expected()),
    Hush(),
)


class FakeSpeaker:
    def __init__(self) -> None:
        self.calls: list[tuple[object, ...]] = []

    def say(self, text: str, urgency: Urgency) -> None:
        self.calls.append(("say", text, urgency))

    def tone(self, grade: Grade) -> None:
        self.calls.append(("tone", grade))

    def hush(self) -> None:
        self.calls.append(("hush",))

    def idle(self, timeout_s: float) -> bool:
        self.calls.append(("idle", timeout_s))
        return True

    def close(self) -> None:
        self.calls.append(("close",))


def perform(silent: bool) -> list[tuple[object, ...]]:
    speaker = FakeSpeaker()
    performer = SpeechPerformer(speaker, silent)  # type: ignore[arg-type]
    for effect in EFFECTS:
        performer.perform(0.0, effect)
    performer.wait(5.0)
    performer.close()
    return speaker.calls


def test_what_is_heard_goes_to_the_speaker_in_order() -> None:
    assert perform(silent=False) == [
        ("say", "Water low.", Urgency.DANGER),
        ("tone", Grade.DANGER),
        ("hush",),
        ("idle", 5.0),
        ("close",),
    ]


def test_without_a_loudspeaker_nothing_is_asked_of_it_but_to_close() -> None:
    assert perform(silent=True) == [("close",)]
