"""Whole steam-ups in normal running: the watch stays quiet unless something wants doing.

The firemen are the practice ones (invented): readings in fives and eighths, late, now and then
wrong, blowers forgotten. Readings count as in time: the walk-through asks for them.
"""

from __future__ import annotations

from dataclasses import replace

from inputs_picture import with_picture

from assistant.alarms.inputs import AlarmInputs, TimedValue
from assistant.alarms.lifecycle import Change
from assistant.alarms.watch import Watch, look
from assistant.messages import Grade, Report
from assistant.procedure.scale import measure
from assistant.simulator.steam_up import draw_habits, invented_engine, steam_up

PACE = (1.0, 1.4, 2.2)  # copper, steel, full size


def with_report(inputs: AlarmInputs, report: Report, at: float) -> AlarmInputs:
    value = measure(report, inputs.engine)
    if report.what in ("pressure", "water"):
        seen = TimedValue(str(report.value) if value is None else value, at)
        return replace(inputs, **{report.what: (*inputs.readings(report.what), seen)})
    before = inputs.states.get(report.what)
    if before is not None and before.value == report.value:
        return inputs
    return replace(inputs, states={**inputs.states, report.what: TimedValue(report.value, at)})


def raised_in(seed: int) -> tuple[float, list[tuple[float, Change]]]:
    """Minutes of one steam-up, and what was raised aloud in it."""
    engine = invented_engine(seed)
    run = steam_up(engine, seed, seed, draw_habits(seed, PACE[seed % 3]))
    inputs, watch = AlarmInputs(engine, phase="raising steam"), Watch()
    raised: list[tuple[float, Change]] = []
    for at, report in run.rows:
        inputs = with_report(inputs, report, at)
        watch, changes = look(watch, with_picture(inputs, at), at)
        raised += [(at / 60, c) for c in changes if c.to_be_told and c.rule.kind != "overdue"]
    return float(run.time_s[-1]) / 60, raised


def test_twelve_steam_ups_stay_under_one_alarm_in_ten_minutes() -> None:
    minutes = 0.0
    count = 0
    for seed in range(12):
        lasted, raised = raised_in(seed)
        minutes, count = minutes + lasted, count + len(raised)
        times = [at for at, _ in raised]
        for start in times:
            within = [at for at in times if start <= at < start + 10.0]
            assert len(within) <= 2, f"run {seed}: {raised}"
        dangers = [c.rule.name for _, c in raised if c.rule.grade is Grade.DANGER]
        assert dangers == [], f"run {seed} was normal"
    assert minutes > 600
    assert count / minutes <= 1.0 / 10.0
    assert count > 0, "some of these firemen leave the blower on, and must be told"
