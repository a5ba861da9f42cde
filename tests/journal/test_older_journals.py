"""Journals written by earlier versions stay readable: each file here is never written anew.

`format_1.jsonl` holds every message of the vocabulary as version 0.1.0 wrote it, `format_2.jsonl`
as 0.2.0 does; what they mean is written out below. A change that breaks this breaks the books on
people's shelves.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from assistant.journal import reader
from assistant.journal.codec import EFFECTS, EVENTS
from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import (
    TYPED,
    AlarmChanged,
    Alternative,
    Answer,
    Away,
    Correction,
    Decided,
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
    Learner,
    LessonGiven,
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
    StepOvertaken,
    StepSkipped,
    StopAsked,
    Tick,
    Tone,
    Urgency,
)

FOLDER = Path(__file__).parent.parent / "data" / "journals"
Turns = tuple[tuple[Event, tuple[Effect, ...]], ...]
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
MEANT: Turns = (
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


# Format 2: four messages more.
DECIDED = (
    Heard(3.0, TYPED, (Alternative(Answer("yes"), "correct", 1.0),), text="correct"),
    (
        Decided("answer", "accept"),
        ReadingAccepted(PSI),
        StepOvertaken("firing", "gauge at zero", "steam"),
    ),
)
AWAY: tuple[Event, tuple[Effect, ...]] = (Away(9000.0, 660.0), ())
LEARNER = Learner("Ann", ("firing/water before the match",), (("preparation/oiled round", 2),))
LEARNING: tuple[Event, tuple[Effect, ...]] = (
    Started(9001.0, people=("Ann",), learner=LEARNER),
    (
        LessonGiven("preparation/water in the glass", "reason"),
        LessonGiven("preparation/water in the glass", "act"),
        LessonGiven("preparation/oiled round", "anticipated"),
        LessonGiven("preparation/oiled round", "prompt left out"),
    ),
)
MEANT_2 = (*MEANT[:4], DECIDED, *MEANT[4:], AWAY, LEARNING)
HEADER_2 = replace(HEADER, program="0.2.0", format=2)
BOTH = pytest.mark.parametrize(
    ("name", "header", "meant", "digest"),
    [
        ("format_1", HEADER, MEANT, "2955 8732 8069 6268"),
        ("format_2", HEADER_2, MEANT_2, "5864 8682 1025 8252"),
    ],
    ids=["1", "2"],
)


@BOTH
def test_each_format_means_what_it_meant(
    name: str, header: Header, meant: Turns, digest: str
) -> None:
    kept = reader.read(FOLDER / f"{name}.jsonl")
    assert (kept.state, kept.where) == ("whole", None)
    assert kept.header == header
    assert tuple((turn.event, turn.effects) for turn in kept.exchanges()) == meant
    assert kept.seal is not None
    assert kept.seal.holds
    assert kept.has_digest(digest)


def kinds_in(meant: Turns) -> set[type]:
    messages = [event for event, _ in meant] + [one for _, effects in meant for one in effects]
    return {type(one) for one in messages}


def test_every_message_of_its_version_is_in_it_and_still_known() -> None:
    assert kinds_in(MEANT) <= EVENTS | EFFECTS
    assert len(kinds_in(MEANT)) == 27  # 9 events, 18 effects
    assert kinds_in(MEANT_2) == EVENTS | EFFECTS


def write_format(path: Path, header: Header, meant: Turns) -> str:
    """How a file was made, once; the digest. For the file of the next format."""
    with Journal.create(path, header) as journal:
        for event, effects in meant:
            journal.event(event)
            for effect in effects:
                journal.effect(event.at, effect)
        return journal.seal()


@BOTH
def test_the_same_written_today_means_the_same(
    tmp_path: Path, name: str, header: Header, meant: Turns, digest: str
) -> None:
    write_format(tmp_path / "today.jsonl", header, meant)
    kept = reader.read(tmp_path / "today.jsonl")
    assert tuple((turn.event, turn.effects) for turn in kept.exchanges()) == meant
