"""The picture that belongs to a look at the engine, made from its readings and states."""

from __future__ import annotations

from dataclasses import replace

from assistant.alarms.inputs import AlarmInputs
from assistant.boiler.scales import PSI_PA
from assistant.messages import OUT_OF_SIGHT, Report
from assistant.picture.given import Given, Movement, no_movement
from assistant.picture.picture import picture_of
from assistant.picture.report_log import ReportLog, TimedReport


def with_picture(
    inputs: AlarmInputs,
    at: float,
    expansion: Movement = no_movement,
    use: Movement = no_movement,
    told: tuple[TimedReport, ...] = (),
) -> AlarmInputs:
    """The inputs with the picture of this moment. `told`: reports besides those of the inputs."""
    log = ReportLog(sorted((*_reports(inputs), *told), key=lambda timed: timed.at))
    given = Given(inputs.engine, log, at, expansion=expansion, use=use, heard_at=at)
    return replace(inputs, picture=picture_of(given))


def _reports(inputs: AlarmInputs) -> list[TimedReport]:
    found = [TimedReport(Report("pressure", float(r.value) / PSI_PA, "psi"), r.at)
             for r in inputs.pressure]  # fmt: skip
    for r in inputs.water:
        out = r.value == OUT_OF_SIGHT
        report = Report("water", OUT_OF_SIGHT) if out else Report("water", r.value, "glass")
        found.append(TimedReport(report, r.at))
    found += [TimedReport(Report(what, str(r.value)), r.at) for what, r in inputs.states.items()]
    found += [TimedReport(Report("emergency", str(r.value)), r.at) for r in inputs.emergencies]
    return found
