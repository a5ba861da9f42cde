"""A story as one flat table for a spreadsheet: everything that happened, corrections too."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from assistant.report.story import Story
from assistant.report.story_values import Call, ShownStep
from assistant.report.terms import time_of_day, time_since_start

_COLUMNS = ("since_start", "clock", "kind", "what", "value", "unit", "state", "remark")
_Line = tuple[float, str, str, str, str, str, str]


def table_csv(story: Story) -> str:
    """The lines in the order of time. A cell never begins as a formula would."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(_COLUMNS)
    for at_s, *cells in sorted(_lines(story), key=lambda line: line[0]):
        row = [
            time_since_start(at_s),
            time_of_day(story.started, at_s),
            *(_safe(cell) for cell in cells),
        ]
        writer.writerow(row)
    return text.getvalue()


def _safe(cell: str) -> str:
    """A cell that begins like a formula, quoted: a spreadsheet would run it.

    >>> _safe("=1+1"), _safe("-0.5")
    ("'=1+1", '-0.5')
    """
    try:
        float(cell)
    except ValueError:
        return f"'{cell}" if cell[:1] in {"=", "+", "-", "@", "\t", "\r"} else cell
    return cell


def _lines(story: Story) -> Iterator[_Line]:
    for call in story.calls:
        yield _call(story, call)
    for refusal in story.refusals:
        report = refusal.report
        cells = ("", "", "")
        if report is not None:
            cells = report.what, str(report.value), report.unit or ""
        yield refusal.at_s, "refused", *cells, "not taken", refusal.reason
    for phase in story.phases:
        yield phase.from_s, "phase", phase.name, "", "", "began", ""
        if phase.to_s is not None:
            yield phase.to_s, "phase", phase.name, "", "", "done", ""
    for step in story.steps:
        yield step.at_s, "step", step.name, step.answer or "", "", _step_state(step), step.phase
    for alarm in story.alarms:
        for state, at_s in (
            ("raised", alarm.raised_s),
            ("acknowledged", alarm.acknowledged_s),
            ("shelved", alarm.shelved_s),
            ("cleared", alarm.cleared_s),
        ):
            if at_s is not None:
                yield at_s, "alarm", alarm.name, alarm.grade.word, "", state, alarm.reason
    for at_s, made in story.forecasts:
        span = "" if made.mid is None else f"{made.low:.1f}..{made.mid:.1f}..{made.high:.1f}"
        yield at_s, "forecast", f"{made.target_psi:g} psi", span, "minutes", "told", made.why
    for at_s, note in story.notes:
        yield at_s, "note", "", "", "", "", note.text
    for at_s, fault in story.faults:
        yield at_s, "fault", "", "", "", "", fault
    for at_s, away_s in story.breaks:
        yield at_s, "break", "", f"{away_s:.0f}", "s", "resumed", ""


def _call(story: Story, call: Call) -> _Line:
    value = call.report.value if isinstance(call.report.value, str) else f"{call.report.value:g}"
    remark = ""
    if call.changed_at_s is not None:
        verb = "said" if call.state == "stands" else "changed"
        remark = f"{verb} {time_since_start(call.changed_at_s)}"
    return call.at_s, "reading", call.report.what, value, call.report.unit or "", call.state, remark


def _step_state(step: ShownStep) -> str:
    if step.answer is not None:
        return "left out" if step.skipped else "done"
    if step.overtaken:
        return f"overtaken ({step.overtaken})"
    return "left open" if step.skipped else "asked"
