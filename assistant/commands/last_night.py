"""How she was left: whether the last book of an engine ended with a fire banked for the night.

Knows journals; decides nothing about the session but where it begins.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from pathlib import Path

from assistant.config.readings_file import Readings
from assistant.errors import FootplateError
from assistant.journal import reader
from assistant.journal.earlier_runs import readings_of
from assistant.messages import BANKED_END, IN_A_NOTE, ON_WATCH, Ended, Report
from assistant.procedure.checklist import Phase
from assistant.wording import people_words, quantities

WARM_H = 36.0  # a banked fire keeps no longer. Judgement
PHASE = Phase.RAISING_STEAM.value  # where she is taken over


@dataclass(frozen=True, slots=True)
class LastNight:
    """She was left with a banked fire, not long ago."""

    hours: float
    """How long ago [h]."""
    readings: Readings
    """The readings of that day."""

    def words(self, dial: str) -> str:
        """What is said of it at the start. dial: the unit of the gauge."""
        name = self._last(ON_WATCH)
        who = "" if name is None or name.value == IN_A_NOTE else str(name.value)
        gauges = (self._last("pressure"), self._last("water"))
        pressure, water = (
            "" if report is None else quantities.report_words(report, dial) for report in gauges
        )
        return people_words.banked_before(self.hours, pressure, water, who)

    def _last(self, subject: str) -> Report | None:
        rows = (report for _, report in reversed(self.readings.rows) if report.what == subject)
        return next(rows, None)


def last_night(engine_name: str, folder: Path, started: str) -> LastNight | None:
    """Of the newest journal of the engine; None where it did not end so, or too long ago.

    started: now, ISO 8601. A journal that cannot be read stops no steam-up: she counts as cold.
    """
    if not folder.is_dir():
        return None
    try:
        return _of_newest(engine_name, folder, started)
    except (FootplateError, ValueError):
        return None


def _of_newest(engine_name: str, folder: Path, started: str) -> LastNight | None:
    path = next(reader.newest_first(folder, engine_name), None)
    if path is None:
        return None
    journal = reader.read(path, only=("journal", Ended.__name__, *reader.READING_EFFECTS))
    ends = [r for r in journal.records if r.payload.get("effect", {}).get("is") == "Ended"]
    if journal.state == "altered" or not ends or not journal.finished:
        return None
    if ends[-1].payload["effect"].get("reason") != BANKED_END:
        return None
    readings = readings_of(journal)
    if readings.started is None:
        return None
    ended = readings.started + datetime.timedelta(seconds=ends[-1].at)
    hours = (datetime.datetime.fromisoformat(started) - ended).total_seconds() / 3600.0
    return LastNight(max(hours, 0.0), readings) if hours <= WARM_H else None
