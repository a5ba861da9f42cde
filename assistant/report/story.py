"""One steam-up as a story: what a journal says happened, in order, ready to be shown.

Knows messages and the journal, nothing of pages or charts. Nothing is left out or repaired.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from pathlib import Path

from assistant.config.engine_file import EngineFile, engine_from_text
from assistant.errors import FootplateError, InputWrongError
from assistant.journal import reader
from assistant.journal.codec import NotAMessageError, effect_from_record, event_from_record
from assistant.journal.header import Header
from assistant.journal.reader import JournalRecords
from assistant.messages import ForecastMade, LessonGiven, NoteTaken
from assistant.report.story_builder import StoryBuilder
from assistant.report.story_values import Call, Interval, Refusal, ShownAlarm, ShownStep

# Nine in ten of all records, and nothing of them is shown.
SKIPPED_KINDS = ("Tick", "SpeechBegan", "Spoke", "Say", "Listen", "Tone")


@dataclass(frozen=True)
class Story:
    """Everything that one journal says."""

    journal: JournalRecords
    """its records and whether its chain holds"""
    header: Header
    engine: EngineFile | None
    """None: the journal holds no engine file that can be read today"""
    length_s: float
    """time of the last record [s]"""
    calls: tuple[Call, ...]
    refusals: tuple[Refusal, ...]
    phases: tuple[Interval, ...]
    steps: tuple[ShownStep, ...]
    alarms: tuple[ShownAlarm, ...]
    forecasts: tuple[tuple[float, ForecastMade], ...]
    """each with its time [s]"""
    notes: tuple[tuple[float, NoteTaken], ...]
    """each with its time [s]"""
    faults: tuple[tuple[float, str], ...]
    """faults of the program, each with its time [s]"""
    breaks: tuple[tuple[float, float], ...]
    """when it was resumed, and after how long [s]"""
    ended: str | None
    """the reason; None: not ended"""
    learner: str = ""
    """who learned; empty: nobody"""
    lessons: tuple[tuple[float, LessonGiven], ...] = ()
    """each with its time [s]"""

    @property
    def started(self) -> datetime.datetime | None:
        """When it began, by the clock of the machine; None when that cannot be read."""
        try:
            return datetime.datetime.fromisoformat(self.header.started)
        except ValueError:
            return None

    @property
    def standing(self) -> tuple[Call, ...]:
        """The readings that stand at the end."""
        return tuple(call for call in self.calls if call.state == "stands")

    @property
    def open_steps(self) -> tuple[ShownStep, ...]:
        """What was left open aloud, overtaken, or asked and not answered since; once each."""
        last = {(step.phase, step.name): step for step in self.steps}
        return tuple(step for step in last.values() if step.answer is None)


def read_story(path: Path) -> Story:
    """The story of a journal, as far as its chain holds.

    Raises InputWrongError when there is no such file, a newer program wrote it, or not even its
    first records are there.
    """
    journal = reader.read(path, without=SKIPPED_KINDS)
    return story_of(journal, reader.require_header(journal))


def story_of(journal: JournalRecords, header: Header) -> Story:
    """The story of records that were read. InputWrongError for a record that is no message."""
    builder = StoryBuilder()
    for record in journal.records:
        try:
            if record.kind == "event":
                builder.event(event_from_record(record.payload.get("event")))
            elif record.kind == "effect":
                builder.effect(record.at, effect_from_record(record.payload.get("effect")))
        except NotAMessageError as wrong:
            raise InputWrongError(f"{journal.path}: record {record.n}: {wrong}") from wrong
    return Story(
        journal,
        header,
        _engine_of(header),
        max((record.at for record in journal.records), default=0.0),
        tuple(builder.calls),
        tuple(builder.refusals),
        tuple(builder.phases),
        tuple(builder.steps),
        tuple(builder.alarms),
        tuple(builder.forecasts),
        tuple(builder.notes),
        tuple(builder.faults),
        tuple(builder.breaks),
        builder.ended,
        builder.learner,
        tuple(builder.lessons),
    )


def _engine_of(header: Header) -> EngineFile | None:
    stored = header.text_of("engine")
    try:
        return None if stored is None else engine_from_text(stored.text, Path(stored.file))
    except FootplateError:
        return None
