"""Small invented journals for the tests of the report: any effects at any times."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from assistant.journal import reader
from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import Effect, ReadingAccepted, Report, Tick

ENGINE = """\
name: Test engine                # invented
invented: yes
owner: Nobody <at> all
working_pressure: 120 psi
safety_valve: {lifts: 145 psi, feathers: 132 psi}
boiler:
  volume: 110 litre
  metal: {steel: 420 kg}
  barrel: {diameter: 420 mm, length: 900 mm}
glass:
  visible: 160 mm
  lower_mark: 0.25
  upper_mark: 0.85
  cold_fill: 0.5
  water: {0.0: 68 litre, 1.0: 96 litre}
fire: {wood_until: 35 psi, rate: 28 kW}
tank: {volume: 45 litre}
due:
  hydraulic test: 2027-05-01
  washout: {last: 2027-04-01, every_in_steam: 20 hour}
"""
STARTED = "2027-05-03T08:00:00+01:00"


def keep(
    folder: Path,
    effects: Iterable[tuple[float, Effect]],
    started: str = STARTED,
    seal: bool = False,
    engine: str | None = None,
) -> Path:
    """A journal with these effects, each behind a tick of its time."""
    header = Header(
        "Test engine",
        started,
        1,
        101_325.0,
        (KeptText("engine", "test.yaml", engine or ENGINE),),
        "typed",
    )
    path = reader.new_path(folder, "Test engine", started)
    with Journal.create(path, header) as journal:
        for at_s, effect in effects:
            journal.event(Tick(at_s))
            journal.effect(at_s, effect)
        if seal:
            journal.seal()
    return path


def reading(what: str, value: float | str, unit: str | None = None) -> ReadingAccepted:
    """A reading that stands."""
    return ReadingAccepted(Report(what, value, unit))


def many(count: int, every_s: float = 60.0) -> list[tuple[float, Effect]]:
    """A steady rise to 120 psi and a glass that swells a little."""
    effects: list[tuple[float, Effect]] = [(0.0, reading("fire", "lit"))] if count else []
    for i in range(count - 1):
        part = i / max(count - 2, 1)
        one = reading("pressure", round(120 * part), "psi")
        other = reading("water", round(0.5 + 0.25 * part, 3), "glass")
        effects.append((every_s * (i + 1), other if i % 2 else one))
    return effects
