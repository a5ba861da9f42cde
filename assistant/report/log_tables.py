"""The tables of a watch log, each made of the story: phases, tests, alarms, readings, the rest."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.boiler.counted import Total, coal_total, water_total
from assistant.boiler.scales import LITRE_M3, PSI_PA
from assistant.config.due_dates import Due
from assistant.journal.clips import StoredClip
from assistant.journal.due_standing import DueStanding, standings
from assistant.journal.index_entry import IndexEntry
from assistant.report import findings
from assistant.report.page import Cell, SoundPart, TablePart, TableRow, TextPart, table
from assistant.report.story import Story
from assistant.report.story_values import Call, ShownStep
from assistant.report.terms import Terms, duration, time_of_day

MOST_SOUND_BYTES = 12_000_000  # on one page


def name_value_table(pairs: Sequence[tuple[str, str]]) -> TablePart:
    """Names and values, without a head."""
    return TablePart((), tuple(TableRow(pair) for pair in pairs), (2, 5))


def _at(story: Story, at_s: float) -> str:
    return time_of_day(story.started, at_s)


def phases(story: Story) -> TablePart | TextPart:
    """When each phase began and ended."""
    rows = []
    for number, phase in enumerate(story.phases, 1):
        end = story.length_s if phase.to_s is None else phase.to_s
        rows.append(
            TableRow(
                (
                    f"{number} {phase.name}",
                    _at(story, phase.from_s),
                    "not ended" if phase.to_s is None else _at(story, phase.to_s),
                    duration(end - phase.from_s),
                )
            )
        )
    return table(("phase", "from", "to", "lasted"), rows, (4, 3, 3, 3), "No phase was begun.")


def tests(story: Story, terms: Terms) -> TablePart | TextPart:
    """Tests of glass, feed and valve, each with the gauge near it."""
    rows = []
    for test in findings.made_tests(story):
        gauge = "no reading near"
        if test.gauge is not None:
            off = duration(abs(test.gauge_off_s))
            side = "later" if test.gauge_off_s > 0 else "earlier"
            gauge = f"{terms.report(test.gauge)}, called {off} {side}"
            gauge = terms.report(test.gauge) if abs(test.gauge_off_s) < 1 else gauge
        rows.append(TableRow((_at(story, test.at_s), test.name, test.result, test.outcome, gauge)))
    head = ("time", "test", "result as called", "by the record", "gauge")
    return table(head, rows, (3, 4, 3, 3, 4), "No test of glass, feed or valve was called.")


def alarms(story: Story) -> TablePart | TextPart:
    """Each raising of an alarm and what became of it."""
    rows = []
    for alarm in story.alarms:
        after = [
            f"{word} {_at(story, at_s)}"
            for word, at_s in (
                ("acknowledged", alarm.acknowledged_s),
                ("shelved", alarm.shelved_s),
                ("cleared", alarm.cleared_s),
            )
            if at_s is not None
        ]
        standing = [] if alarm.cleared_s is not None else ["STOOD AT THE END"]
        rows.append(
            TableRow(
                (
                    _at(story, alarm.raised_s),
                    f"{alarm.grade.word}: {alarm.name}",
                    alarm.reason,
                    "; ".join([*after, *standing]),
                )
            )
        )
    return table(
        ("raised", "alarm", "by which figures", "then"), rows, (3, 4, 4, 4), "No alarm was raised."
    )


def _how_open(step: ShownStep) -> str:
    if step.overtaken:
        return f"overtaken ({step.overtaken})"
    return "left open aloud" if step.skipped else "asked and not answered"


def open_items_table(story: Story) -> TablePart | TextPart:
    """Steps left open and alarms not cleared."""
    rows = [
        TableRow(
            (
                f"{step.phase}: {step.name}",
                f"{_how_open(step)}, {_at(story, step.at_s)}",
            )
        )
        for step in story.open_steps
    ]
    rows += [
        TableRow((f"alarm: {alarm.name}", "not cleared"))
        for alarm in story.alarms
        if alarm.cleared_s is None
    ]
    return table((), rows, (4, 3), "Nothing was left open.")


def notes(
    story: Story, sounds: Sequence[StoredClip], most_bytes: int = MOST_SOUND_BYTES
) -> TablePart | TextPart:
    """What was noted. sounds: the journal's; they go on the page up to `most_bytes` together."""
    by_name = {sound.name: sound for sound in sounds}
    rows: list[TableRow] = []
    on_page = 0
    for at_s, note in story.notes:
        words = note.text or "(no words made out)"
        cell: Cell = "none kept"
        if note.clip is not None:
            cell = _sound(note.clip, by_name.get(note.clip), most_bytes - on_page)
            on_page += len(cell.flac) if isinstance(cell, SoundPart) else 0
        rows.append(TableRow((_at(story, at_s), words, cell)))
    head = ("time", "in the words heard", "sound")
    return table(head, rows, (2, 5, 4), "No note was said.")


def _sound(name: str, kept: StoredClip | None, room_bytes: int) -> Cell:
    if kept is None or kept.state == "gone":
        return f"{name} is not beside the journal"
    if kept.sound is None:
        return f"{name} WAS CHANGED since it was kept"
    if len(kept.sound) > room_bytes:
        return f"{name}, beside the journal: too much for one page"
    return SoundPart(f"{name}, {max(round(len(kept.sound) / 1000), 1)} kB", kept.sound)


def water_and_fuel(story: Story) -> TablePart:
    """What was used, and by what that is known."""
    used = findings.used_in_run(story)
    fed, gone, burnt = used.fed_m3, used.water_kg, used.fuel_kg
    return name_value_table(
        [
            (
                "water out of the tank",
                "not known: fewer than two tank readings"
                if fed is None
                else f"{findings.litres(fed):.1f} litres, by the tank's readings",
            ),
            (
                "water out of the boiler",
                "not known" if gone is None else f"about {gone:.1f} kg, reckoned from the readings",
            ),
            (
                "fuel",
                "not known"
                if burnt is None
                else f"about {burnt:.1f} kg of coal, a rough reckoning from the heat; not weighed",
            ),
            *_counted(story),
        ]
    )


def _counted(story: Story) -> list[tuple[str, str]]:
    """Coal and water as they were counted; no rows where none was."""
    if story.engine is None:
        return []
    engine, reports = story.engine.engine, [call.report for call in story.standing]
    coal, water = coal_total(engine, reports), water_total(engine, reports)
    rows = []
    if coal is not None:
        rows.append(("coal put on, as counted", _total(coal, "kg", 1.0)))
    if water is not None:
        rows.append(("water put in, as counted", _total(water, "litres", LITRE_M3)))
    return rows


def _total(total: Total, unit: str, one: float) -> str:
    """Counts, and what they come to in a unit of which one is `one` in SI."""
    counts = ", ".join(
        f"{count:g} {name.replace('_', ' ')}{'' if count == 1 else 's'}"
        for name, count in total.counts
    )
    if total.low is None or total.mid is None or total.high is None:
        return f"{counts}; the engine file does not tell the size of each"
    digits = 0 if total.mid / one >= 10.0 else 1
    low, mid, high = (f"{each / one:.{digits}f}" for each in (total.low, total.mid, total.high))
    return f"{counts}: about {mid} {unit} ({low} to {high}, eight times in ten)"


def due(
    story: Story, entries: Sequence[IndexEntry], terms: Terms
) -> tuple[TablePart | TextPart, ...]:
    """Due dates as on the day of the steam-up. entries: this engine's journals by then."""
    moment = story.started
    if story.engine is None or not story.engine.due or moment is None:
        return (TextPart("The engine file gives none."),)
    found = standings(story.engine.due, moment.date(), entries)
    rows = [
        TableRow((due.name, _by(due, terms), _left(standing)))
        for due, standing in zip(story.engine.due, found, strict=True)
    ]
    return (
        TablePart(("what", "due", "on the day of this log"), tuple(rows), (4, 4, 4)),
        TextPart("From the owner's own figures; it says nothing of what any law asks for."),
    )


def _by(due: Due, terms: Terms) -> str:
    by = due.due_by()
    parts = [] if by is None else [f"by {terms.date(by)}"]
    parts += [] if due.every_hours is None else [f"every {due.every_hours:g} h in steam"]
    return ", ".join(parts) or "not said"


def _left(standing: DueStanding) -> str:
    parts = []
    if standing.days_left is not None:
        days = standing.days_left
        parts.append(f"{days} days left" if days >= 0 else f"OVERDUE by {-days} days")
    if standing.hours_left is not None:
        hours = standing.hours_left
        parts.append(f"{hours:.1f} h left" if hours >= 0 else f"OVERDUE by {-hours:.1f} h")
    return ", ".join(parts) or "cannot be counted"


def readings_table(story: Story, terms: Terms) -> TablePart | TextPart:
    """Every reading, those taken back or corrected struck through."""
    rows = [
        TableRow(
            (
                _at(story, call.at_s),
                call.report.what,
                terms.report(call.report),
                _remark(story, call),
            ),
            struck=call.state != "stands",
        )
        for call in story.calls
    ]
    return table(
        ("time", "what", "as called", "remark"), rows, (3, 3, 4, 5), "No reading was taken."
    )


def _remark(story: Story, call: Call) -> str:
    changed = "" if call.changed_at_s is None else _at(story, call.changed_at_s)
    if call.state != "stands":
        return f"{call.state} at {changed}"
    if call.instead is not None:
        return f"stands instead, said at {changed}"
    return f"asked again, then confirmed ({call.asked})" if call.asked else ""


def refusals(story: Story, terms: Terms) -> TablePart | TextPart:
    """What was heard and not accepted."""
    named = [r for r in story.refusals if r.report is not None]
    rows = [
        TableRow((_at(story, r.at_s), r.report.what, terms.report(r.report), r.reason))
        for r in named
        if r.report is not None
    ]
    blank = len(story.refusals) - len(named)
    if blank:
        rows.append(TableRow(("", "", f"{blank} times", "speech that was none of our sentences")))
    return table(
        ("time", "what", "as heard", "why not"), rows, (3, 3, 3, 6), "Everything heard was taken."
    )


def forecasts_table(story: Story, terms: Terms) -> TablePart | TextPart:
    """Each forecast time to a pressure, and the time it took."""
    rows = []
    for at_s, made in story.forecasts:
        if made.low is None or not made.mid or made.high is None:
            continue
        reached_s = findings.reached_s(story, made.target_psi * PSI_PA)
        forecast = f"{made.low:.0f} to {made.high:.0f} min, most likely {made.mid:.0f}"
        outcome = "not reached in this book"
        if reached_s is not None and reached_s >= at_s:
            outcome = f"{(reached_s - at_s) / 60:.0f} min"
        elif reached_s is not None:
            outcome = "had been reached"
        pressure = terms.gauge(made.target_psi * PSI_PA)
        rows.append(TableRow((_at(story, at_s), pressure, forecast, outcome)))
    head = ("told at", "pressure", "eight times in ten", "came after")
    return table(head, rows, (3, 3, 4, 3), "No time to a pressure was told.")


def breaks(story: Story) -> TablePart | TextPart:
    """When the program was resumed, and its faults."""
    rows = [
        TableRow((_at(story, at_s), f"gone on after a break of {duration(away_s)}"))
        for at_s, away_s in story.breaks
    ]
    rows += [
        TableRow((_at(story, at_s), f"fault of the program: {fault}"))
        for at_s, fault in story.faults
    ]
    return table(("time", "what"), rows, (2, 7), "None.")
