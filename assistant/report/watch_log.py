"""The page of one steam-up: which sections it has, in which order, and what stands in each.

Knows the story and the parts of a page; draws nothing and writes no file.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, partial

from assistant.files.due_dates import Due
from assistant.files.due_standing import Standing, standings
from assistant.files.shelf import Entry
from assistant.messages import NoteTaken
from assistant.report import findings
from assistant.report.chart import draw
from assistant.report.page import Blanks, Page, Picture, Row, Section, Table, Words, table
from assistant.report.story import Call, Story
from assistant.report.terms import Terms, clock, lasting, since

CAUTION = (
    "This page shows what was called out and heard by a machine. It can be wrong, and it has no"
    " eyes. It assisted; the gauges, the engine's own written instructions, the inspecting body,"
    " local codes and licensed practice come first. It is no certificate and no examination."
)
KEY = (
    "Orange: each forecast as it was told, from the last reading to the pressure wanted; eight"
    " times in ten it should come within. Grey crosses: readings taken back. Green: between the"
    " marks of the glass. Red triangles: no water in sight. Bars: the higher, the wider open"
    " (fire: lit, built, coal). Hatched: the program was not running."
)
WAYS = {
    "live": "live, by voice",
    "typed": "typed",
    "script": "from a script, not from an engine",
    "rehearsal": "a practice on a simulated boiler, not from an engine",
}


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the person who asks for the page adds. people, weather: printed as given, if given."""

    terms: Terms
    people: str = ""
    weather: str = ""


def watch_log(story: Story, wanted: Wanted, shelf: Sequence[Entry] = ()) -> Page:
    """The page. shelf: this engine's journals up to this one, for hours in steam."""
    terms = wanted.terms
    return Page(
        f"Watch log: {story.header.engine_name}",
        f"{terms.date(story.started)}, begun {clock(story.started, 0.0)},"
        f" {lasting(story.length_s)} long",
        (
            Section("", tuple(_cautions(story))),
            Section("Engine and day", (_day(story, wanted),)),
            Section("Phases", (_phases(story),)),
            Section("Open items", (_open_items(story),)),
            Section("Tests made", (_tests(story, terms),)),
            Section("Course", (_picture(story, terms), Words(KEY))),
            Section("Alarms", (_alarms(story),)),
            Section("Notes said aloud", (_notes(story),)),
            Section("Water and fuel", (_spent(story),)),
            Section("Due dates", _due(story, shelf, terms)),
            Section("Readings", (_readings(story, terms),)),
            Section("Heard and not taken", (_refusals(story, terms),)),
            Section("Forecasts, and what came", (_forecasts(story, terms),)),
            Section("Breaks and faults", (_breaks(story),)),
            Section("The record", (_record(story),)),
            Section("Signatures", _signatures()),
        ),
    )


def _cautions(story: Story) -> list[Words]:
    found = [Words(CAUTION, strong=True)]
    if story.header.how in {"rehearsal", "script"}:
        found.append(Words(f"This is {WAYS[story.header.how]}: nothing on it was seen.", True))
    if story.engine is not None and story.engine.invented:
        found.append(Words("The figures of this engine are invented; it is nobody's engine."))
    if story.kept.state != "whole":
        found.append(
            Words(
                f"THE JOURNAL IS {story.kept.state.upper()}: {story.kept.why}. Shown is what stands"
                f" before that place ({story.kept.count} records).",
                strong=True,
            )
        )
    return found


def _plain(pairs: Sequence[tuple[str, str]]) -> Table:
    return Table((), tuple(Row(pair) for pair in pairs), (2, 5))


def _day(story: Story, wanted: Wanted) -> Table:
    engine, terms = story.engine, wanted.terms
    pairs = [("engine", story.header.engine_name)]
    if engine is not None:
        pairs += [("number", engine.number)] if engine.number else []
        pairs += [("owner", engine.owner)] if engine.owner else []
        figures = engine.engine
        pairs.append(
            (
                "working pressure",
                f"{terms.gauge(figures.working_pressure_gauge_pa)}; the valve lifts at"
                f" {terms.gauge(figures.valve_lifts_gauge_pa)}",
            )
        )
    peak = findings.peak(story)
    pairs += [
        ("begun", f"{terms.date(story.started)} {clock(story.started, 0.0)}{_zone(story)}"),
        ("length", f"{lasting(story.length_s)}; ended: {story.ended or 'not ended in the book'}"),
        ("highest pressure called", "none called" if peak is None else terms.report(peak)),
        ("kept", WAYS.get(story.header.how, story.header.how)),
    ]
    pairs += [("people (given for this page)", wanted.people)] if wanted.people else []
    pairs += [("weather (given for this page)", wanted.weather)] if wanted.weather else []
    return _plain(pairs)


def _zone(story: Story) -> str:
    moment = story.started
    return "" if moment is None or moment.tzinfo is None else f" ({moment:%z} from UTC)"


def _picture(story: Story, terms: Terms) -> Picture:
    count = sum(call.report.what in {"pressure", "water"} for call in story.standing)
    words = (
        f"Pressure and water over time from {count} readings, with the phases, what was open or"
        f" burning, tests, notes and {len(story.alarms)} alarms. The figures are in the tables."
    )
    return Picture(words, cache(partial(draw, story, terms)))


def _at(story: Story, at_s: float) -> str:
    return clock(story.started, at_s)


def _phases(story: Story) -> Table | Words:
    rows = []
    for number, phase in enumerate(story.phases, 1):
        end = story.length_s if phase.to_s is None else phase.to_s
        rows.append(
            Row(
                (
                    f"{number} {phase.name}",
                    _at(story, phase.from_s),
                    "not ended" if phase.to_s is None else _at(story, phase.to_s),
                    lasting(end - phase.from_s),
                )
            )
        )
    return table(("phase", "from", "to", "lasted"), rows, (4, 3, 3, 3), "No phase was begun.")


def _tests(story: Story, terms: Terms) -> Table | Words:
    rows = []
    for test in findings.made_tests(story):
        gauge = "no reading near"
        if test.gauge is not None:
            off = lasting(abs(test.gauge_off_s))
            side = "later" if test.gauge_off_s > 0 else "earlier"
            gauge = f"{terms.report(test.gauge)}, called {off} {side}"
            gauge = terms.report(test.gauge) if abs(test.gauge_off_s) < 1 else gauge
        rows.append(Row((_at(story, test.at_s), test.name, test.result, gauge)))
    head = ("time", "test", "result as called", "gauge")
    return table(head, rows, (3, 4, 3, 4), "No test of glass, feed or valve was called.")


def _alarms(story: Story) -> Table | Words:
    rows = []
    for alarm in story.alarms:
        after = [
            f"{word} {_at(story, at_s)}"
            for word, at_s in (
                ("acknowledged", alarm.heard_s),
                ("shelved", alarm.shelved_s),
                ("cleared", alarm.cleared_s),
            )
            if at_s is not None
        ]
        standing = [] if alarm.cleared_s is not None else ["STOOD AT THE END"]
        rows.append(
            Row(
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


def _open_items(story: Story) -> Table | Words:
    rows = [
        Row(
            (
                f"{step.phase}: {step.name}",
                f"{'left open aloud' if step.skipped else 'asked and not answered'},"
                f" {_at(story, step.at_s)}",
            )
        )
        for step in story.open_steps
    ]
    rows += [
        Row((f"alarm: {alarm.name}", "not cleared"))
        for alarm in story.alarms
        if alarm.cleared_s is None
    ]
    return table((), rows, (4, 3), "Nothing was left open.")


def _notes(story: Story) -> Table | Words:
    rows = [Row((_at(story, at_s), _noted(note))) for at_s, note in story.notes]
    return table(("time", "in the words heard"), rows, (2, 7), "No note was said.")


def _noted(note: NoteTaken) -> str:
    words = note.text or "(no words made out)"
    return f"{words} [sound kept: {note.clip}]" if note.clip else words


def _spent(story: Story) -> Table:
    used = findings.spent(story)
    fed, gone, burnt = used.fed_m3, used.water_kg, used.fuel_kg
    return _plain(
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
        ]
    )


def _due(story: Story, shelf: Sequence[Entry], terms: Terms) -> tuple[Table | Words, ...]:
    """As they stood on the day of the steam-up."""
    moment = story.started
    if story.engine is None or not story.engine.due or moment is None:
        return (Words("The engine file gives none."),)
    found = standings(story.engine.due, moment.date(), shelf)
    rows = [
        Row((due.name, _by(due, terms), _left(standing)))
        for due, standing in zip(story.engine.due, found, strict=True)
    ]
    return (
        Table(("what", "due", "on the day of this log"), tuple(rows), (4, 4, 4)),
        Words("From the owner's own figures; it says nothing of what any law asks for."),
    )


def _by(due: Due, terms: Terms) -> str:
    by = due.due_by()
    parts = [] if by is None else [f"by {terms.date(by)}"]
    parts += [] if due.every_hours is None else [f"every {due.every_hours:g} h in steam"]
    return ", ".join(parts) or "not said"


def _left(standing: Standing) -> str:
    parts = []
    if standing.days_left is not None:
        days = standing.days_left
        parts.append(f"{days} days left" if days >= 0 else f"OVERDUE by {-days} days")
    if standing.hours_left is not None:
        hours = standing.hours_left
        parts.append(f"{hours:.1f} h left" if hours >= 0 else f"OVERDUE by {-hours:.1f} h")
    return ", ".join(parts) or "cannot be counted"


def _readings(story: Story, terms: Terms) -> Table | Words:
    rows = [
        Row(
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


def _refusals(story: Story, terms: Terms) -> Table | Words:
    named = [r for r in story.refusals if r.report is not None]
    rows = [
        Row((_at(story, r.at_s), r.report.what, terms.report(r.report), r.reason))
        for r in named
        if r.report is not None
    ]
    blank = len(story.refusals) - len(named)
    if blank:
        rows.append(Row(("", "", f"{blank} times", "speech that was none of our sentences")))
    return table(
        ("time", "what", "as heard", "why not"), rows, (3, 3, 3, 6), "Everything heard was taken."
    )


def _forecasts(story: Story, terms: Terms) -> Table | Words:
    rows = []
    for at_s, made in story.forecasts:
        if made.low is None or not made.mid or made.high is None:
            continue
        came = findings.reached_s(story, made.target_psi * 6894.757293168)
        told = f"{made.low:.0f} to {made.high:.0f} min, most likely {made.mid:.0f}"
        seen = "not reached in this book"
        if came is not None and came >= at_s:
            seen = f"{(came - at_s) / 60:.0f} min"
        elif came is not None:
            seen = "had been reached"
        rows.append(
            Row((_at(story, at_s), terms.gauge(made.target_psi * 6894.757293168), told, seen))
        )
    head = ("told at", "pressure", "eight times in ten", "came after")
    return table(head, rows, (3, 3, 4, 3), "No time to a pressure was told.")


def _breaks(story: Story) -> Table | Words:
    rows = [
        Row((_at(story, at_s), f"gone on after a break of {lasting(away_s)}"))
        for at_s, away_s in story.breaks
    ]
    rows += [
        Row((_at(story, at_s), f"fault of the program: {told}")) for at_s, told in story.faults
    ]
    return table(("time", "what"), rows, (2, 7), "None.")


def _record(story: Story) -> Table:
    kept, header = story.kept, story.header
    seal = kept.seal
    sealed = "not sealed"
    if seal is not None:
        sealed = f"{seal.digest} ({'holds' if seal.holds else 'DOES NOT HOLD'})"
    engine = header.text_of("engine")
    return _plain(
        [
            ("journal", kept.path.name),
            ("state", kept.state if kept.state == "whole" else f"{kept.state}: {kept.why}"),
            ("records", f"{kept.count}; events and effects up to {since(story.length_s)}"),
            ("seal", sealed),
            ("digest of the last line", kept.digest),
            ("written by", f"program version {header.program}, format {header.format}"),
            ("engine file", "none" if engine is None else f"SHA-256 {engine.sha256}"),
            (
                "proved by",
                "each line carries the hash of the line before it; only a digest written down"
                " elsewhere can show that the whole book was not written anew",
            ),
        ]
    )


def _signatures() -> tuple[Words | Blanks, ...]:
    return (
        Words("Filled with a pen, by a person who was there; nothing below was heard or guessed."),
        Blanks(
            (
                "Driver, name and signature",
                "Second person",
                "Weather and place",
                "Fuel put on, weighed",
                "Sealed digest as written in the bound book",
                "Read and found right by",
                "Date",
            )
        ),
    )


def on_the_day(entries: Sequence[Entry], story: Story) -> tuple[Entry, ...]:
    """The journals of this engine that had begun by the time that this one began, and itself."""
    return tuple(
        entry for entry in entries if _begun(entry.started) <= _begun(story.header.started)
    )


def _begun(text: str) -> float:
    try:
        return datetime.datetime.fromisoformat(text).timestamp()
    except ValueError:
        return 0.0
