"""Timed steam-ups of real boilers, as questions to a forecast: read from outside data, halved.

Rule of the halves: engines in the order of the file, an engine's trials together (`_1`, `_3` at the
end of a name number them); the first, third, fifth ... engine may be fitted to, the others judge.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.belief import estimate
from assistant.boiler.figures import GUESSED, Engine, Glass
from assistant.boiler.scales import PSI_PA
from assistant.config.positioned_yaml import (
    Listing,
    Node,
    Problems,
    Scalar,
    Table,
    parse,
    read_text,
)
from assistant.lab.benches.forecast_errors import ForecastCase, answered
from assistant.messages import Report
from assistant.simulator.steam_up import Rows

# Pressures for what a source tells in words [psi]. Judgement.
IN_WORDS = {"needle moved": 2.0, "steam heard at the cocks (boiling)": 1.0, "drafting steam": 5.0}
# Records with a question after lighting whose fire was kept up: no aid ended, no steam was drawn.
KEPT_UP = (
    "crystal_palace_merryweather_3", "crystal_palace_shand_3", "crystal_palace_easton_3",
    "crystal_palace_nichols_3", "hyde_park_deluge", "launch_iona",
)  # fmt: skip


@dataclass(frozen=True)
class TimedRecord:
    """One steam-up: pressures with minutes since lighting, the last one reached."""

    name: str
    kind: str
    source: str
    pairs: tuple[tuple[float, float], ...]
    """(minutes since lighting, gauge pressure [psi]), rising in time, none at the lighting of a
    cold boiler"""
    fitted: bool
    """whether its engine is in the half that may be fitted to"""

    @property
    def engine_name(self) -> str:
        """The engine; the same for all of its trials."""
        return _engine_name(self.name)

    def rows(self, count: int) -> Rows:
        """The lighting and the first so many pressures, as they would be called."""
        called = [(60.0 * at, Report("pressure", psi, "psi")) for at, psi in self.pairs[:count]]
        return ((0.0, Report("fire", "lit")), *called)


def _engine_name(record: str) -> str:
    return re.sub(r"_\d$", "", record)


def read_records(path: Path) -> tuple[TimedRecord, ...]:
    """The records with at least one pressure after lighting, in the order of the file.

    path: records.yaml. Raises FileWrongError or InputWrongError.
    """
    problems = Problems(path.name)
    table = parse(read_text(path), problems)
    problems.stop_if_any()
    assert table is not None
    listed = table.get("records")
    entries = [item for item in _items(listed) if isinstance(item, Table)]
    engines = list(dict.fromkeys(_engine_name(_text(entry, "id")) for entry in entries))
    records = [
        TimedRecord(
            _text(entry, "id"), _text(entry, "kind"), _text(entry, "source"),
            _pairs(entry.get("pairs")),
            engines.index(_engine_name(_text(entry, "id"))) % 2 == 0,
        )
        for entry in entries
    ]  # fmt: skip
    return tuple(record for record in records if record.pairs)


def _items(node: Node | None) -> tuple[Node, ...]:
    return node.items if isinstance(node, Listing) else ()


def _text(table: Table, key: str) -> str:
    value = table.get(key)
    return value.text if isinstance(value, Scalar) else ""


def _pairs(node: Node | None) -> tuple[tuple[float, float], ...]:
    """Those of the pairs in which both are numbers, or words that stand for one."""
    pairs = []
    for item in _items(node):
        minutes, psi = (_number(cell) for cell in _items(item))
        if minutes is not None and psi is not None and (minutes, psi) != (0.0, 0.0):
            pairs.append((minutes, psi))
    return tuple(pairs)


def _number(node: Node) -> float | None:
    text = node.text if isinstance(node, Scalar) else ""
    try:
        return float(text)
    except ValueError:
        return IN_WORDS.get(text)


def guessed_engine(record: TimedRecord) -> Engine:
    """An engine file such as a stranger would write, every figure of the boiler a guess.

    No source tells the heat; a fire engine, a launch and an engine of full size are told apart.
    Water and metal: the launch Iona's thousand pounds with the water in; the others judgement.
    """
    small = record.kind.startswith(("land steam", "steam launch", "gauge 1"))
    litres, steel_kg = (120.0, 340.0) if small else (1500.0, 4000.0)
    top_psi = max(psi for _, psi in record.pairs)
    return Engine(
        name=record.name,
        working_pressure_gauge_pa=top_psi * PSI_PA,
        valve_lifts_gauge_pa=1.2 * top_psi * PSI_PA,
        valve_feathers_gauge_pa=None,
        volume_m3=litres / 1000.0,
        metal_kg={"steel": steel_kg},
        barrel_diameter_m=None,
        barrel_length_m=None,
        glass=Glass(0.2, 0.25, 0.85, 0.5, ((0.0, 0.55 * litres), (1.0, 0.85 * litres))),
        wood_until_gauge_pa=0.0,
        guessed=frozenset(GUESSED),
    )


def question(record: TimedRecord, count: int, past: Sequence[TimedRecord] = ()) -> ForecastCase:
    """The time to the last pressure, asked at lighting (count 0) or after so many pressures.

    past: earlier runs of the same engine.
    """
    engine = guessed_engine(record)
    belief = estimate.begin(engine, 0.0, tuple(one.rows(len(one.pairs)) for one in past))
    rows = record.rows(count)
    for at_s, report in rows:
        belief = estimate.update(belief, report, at_s)
    end_min, psi = record.pairs[-1]
    return answered(belief, psi * PSI_PA, end_min - rows[-1][0] / 60.0, rows)


def after_readings(records: Iterable[TimedRecord]) -> list[tuple[TimedRecord, ForecastCase]]:
    """Each record's questions after each of its pressures but the last."""
    return [
        (record, question(record, count))
        for record in records
        for count in range(1, len(record.pairs))
    ]


def after_an_earlier_run(
    records: Sequence[TimedRecord],
) -> list[tuple[TimedRecord, ForecastCase]]:
    """The later trial of each engine with two, asked at lighting, the earlier one known."""
    asked = []
    for late in records:
        early = [r for r in records if r.engine_name == late.engine_name and r.name < late.name]
        if early:
            asked.append((late, question(late, 0, early[:1])))
    return asked
