"""Journals written by earlier versions stay readable: each file here is never written anew.

`format_1.jsonl` holds every message of the vocabulary as version 0.1.0 wrote it; what it means is
written out below. A change that breaks this breaks the books on people's shelves.
"""

from __future__ import annotations

from pathlib import Path

from assistant.journal import reader
from assistant.journal.codec import EFFECTS, EVENTS
from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import (
    AlarmChanged,
    Alternative,
    Answer,
    Correction,
    DeviceBack,
    DeviceLost,
    Effect,
    Ended,
    Event,
    Expected,
    Fault,
    ForecastMade,
    Grade,
    Heard,
    Hush,
    Listen,
    NoteTaken,
    Order,
    PhaseBegan,
    PhaseDone,
    ReadingAccepted,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Resumed,
    Say,
    Several,
    SpeechBegan,
    Spoke,
    Started,
    StepAsked,
    StepDone,
    StepSkipped,
    StopAsked,
    Tick,
    Tone,
    Urgency,
)

FORMAT_1 = Path(__file__).parent.parent / "data" / "journals" / "format_1.jsonl"
PSI, GLASS = Report("pressure", 75.0, "psi"), Report("water", 0.1 + 0.2, "glass")
HEARD = Heard(
    2.5,
    "held",
    (
        Alternative(Several((PSI, GLASS)), "pressure seventy five, water a third", 0.5),
        Alternative(Correction(Report("fire", "lit")), "wrong, fire lit", 0.25),
        Alternative(Answer("yes"), "correct", 0.125),
        Alternative(Order("how long", 60.0, "psi"), "how long to sixty", 0.0625),
    ),
    1.75,
    -0.25,
    1.5,
    "pressure seventy five – water a third",
    "clip-1.wav",
)
MEANT: tuple[tuple[Event, tuple[Effect, ...]], ...] = (
    (Started(0.0, "firing", 7), (PhaseBegan("firing"), StepAsked("firing", "water"))),
    (Tick(1.0), ()),
    (SpeechBegan(2.0), (Hush(),)),
    (
        HEARD,
        (
            ReadingAccepted(PSI),
            ReadingDoubted(GLASS, "far from what was believed"),
            ReadingRefused(None, "not understood"),
            ReadingCorrected(PSI, Report("pressure", 65.0, "psi")),
            ReadingCorrected(GLASS, None),
            Say("Seven five. Seventy five.", Urgency.ANSWER),
            Listen(Expected("state", (("fire is lit", Report("fire", "lit")),), "water", "bar")),
        ),
    ),
    (Spoke(4.0, "Seven five.", "cut"), ()),
    (DeviceLost(5.0, "microphone", "unplugged"), (Tone(Grade.WARNING),)),
    (DeviceBack(6.0, "microphone"), (Fault("a bug"),)),
    (
        Resumed(100.0, 90.0),
        (
            StepDone("firing", "water", "half"),
            StepSkipped("firing", "lid"),
            PhaseDone("firing"),
            AlarmChanged("low water", Grade.DANGER, "raised", "0.1 is under 0.25"),
            ForecastMade(120.0, 9.5, 12.0, 16.0, "rising"),
            ForecastMade(120.0, None, None, None, "damped"),
            NoteTaken("a weep at the washout plug", None),
        ),
    ),
    (StopAsked(101.0), (Ended("stopped"),)),
)
HEADER = Header(
    "Practice engine",
    "2026-11-25T13:20:00+0000",
    7,
    101_325.0,
    (KeptText("engine", "practice.yaml", "name: Practice engine  # invented\n"),),
    "typed",
    "0.1.0",
    1,
)


def test_format_1_means_what_it_meant() -> None:
    kept = reader.read(FORMAT_1)
    assert (kept.state, kept.where) == ("whole", None)
    assert kept.header == HEADER
    assert tuple((turn.event, turn.effects) for turn in kept.exchanges()) == MEANT
    assert kept.seal is not None
    assert kept.seal.holds
    assert kept.has_digest("2955 8732 8069 6268")


def test_every_message_of_that_version_is_in_it_and_still_known() -> None:
    messages = [event for event, _ in MEANT] + [one for _, effects in MEANT for one in effects]
    assert {type(one) for one in messages} <= EVENTS | EFFECTS
    assert len({type(one) for one in messages}) == 27  # 9 events, 18 effects


def write_format_1(path: Path) -> str:
    """How the file was made, once; the digest. For the file of the next format."""
    with Journal.create(path, HEADER) as journal:
        for event, effects in MEANT:
            journal.event(event)
            for effect in effects:
                journal.effect(event.at, effect)
        return journal.seal()


def test_the_same_written_today_means_the_same(tmp_path: Path) -> None:
    write_format_1(tmp_path / "today.jsonl")
    kept = reader.read(tmp_path / "today.jsonl")
    assert tuple((turn.event, turn.effects) for turn in kept.exchanges()) == MEANT
