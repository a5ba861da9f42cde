"""The page of one steam-up: which sections it has, in which order, and what stands in each.

Knows the story and the parts of a page; draws nothing and writes no file.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, partial

from assistant.journal import clips
from assistant.journal.index_entry import IndexEntry
from assistant.procedure import plate
from assistant.report import findings, learner_table, log_tables, people_table
from assistant.report.chart import draw
from assistant.report.events_chart import SHOWN_STATES
from assistant.report.lists import list_rows
from assistant.report.log_tables import name_value_table
from assistant.report.page import Blanks, Page, Picture, Section, TablePart, TextPart
from assistant.report.story import Story
from assistant.report.terms import Terms, duration, time_of_day, time_since_start

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
RECORDED_AS = {
    "live": "live, by voice",
    "typed": "typed",
    "script": "from a script, not from an engine",
    "rehearsal": "a practice on a simulated boiler, not from an engine",
}


@dataclass(frozen=True, slots=True)
class LogOptions:
    """What the person who asks for the page adds."""

    terms: Terms
    """how quantities are written"""
    people: str = ""
    """printed as given"""
    weather: str = ""
    """printed as given"""


def watch_log(story: Story, options: LogOptions, entries: Sequence[IndexEntry] = ()) -> Page:
    """The page. entries: this engine's journals up to this one, for hours in steam."""
    terms = options.terms
    sounds = clips.check_clips(story.journal)
    learning = learner_table.learner(story)
    return Page(
        f"Watch log: {story.header.engine_name}",
        f"{terms.date(story.started)}, begun {time_of_day(story.started, 0.0)},"
        f" {duration(story.length_s)} long",
        (
            Section("", tuple(_cautions(story, sounds))),
            Section("Engine and day", (_day(story, options),)),
            Section("Course", _course(story, terms)),
            Section("Phases", (log_tables.phases(story),)),
            Section("Open items", (log_tables.open_items_table(story),)),
            Section("Tests made", (log_tables.tests(story, terms),)),
            Section("Alarms", (log_tables.alarms(story),)),
            Section("People", (people_table.people(story),)),
            *([Section("Learner", learning)] if learning else []),
            Section("Notes said aloud", (log_tables.notes(story, sounds),)),
            Section("Water and fuel", (log_tables.water_and_fuel(story),)),
            Section("Due dates", log_tables.due(story, entries, terms)),
            Section("Readings", (log_tables.readings_table(story, terms),)),
            Section("Heard and not taken", (log_tables.refusals(story, terms),)),
            Section("Forecasts, and what came", (log_tables.forecasts_table(story, terms),)),
            Section("Breaks and faults", (log_tables.breaks(story),)),
            Section("The record", (_record(story),)),
            Section("Signatures", _signatures()),
        ),
    )


def _cautions(story: Story, sounds: Sequence[clips.StoredClip]) -> list[TextPart]:
    journal = story.journal
    found = [TextPart(CAUTION, strong=True)]
    if story.header.how in {"rehearsal", "script"}:
        how = RECORDED_AS[story.header.how]
        found.append(TextPart(f"This is {how}: nothing on it was seen.", strong=True))
    if story.engine is not None and story.engine.invented:
        found.append(TextPart("The figures of this engine are invented; it is nobody's engine."))
    found += _plate(story)
    if journal.state != "whole":
        found.append(
            TextPart(
                f"THE JOURNAL IS {journal.state.upper()}: {journal.why}. Shown is what stands"
                f" before that place ({journal.count} records).",
                strong=True,
            )
        )
    changed = [sound.trouble for sound in sounds if sound.state == "changed"]
    if changed:
        found.append(TextPart(f"NOT AS IT WAS KEPT: {'; '.join(changed)}.", strong=True))
    return found


def _plate(story: Story) -> list[TextPart]:
    """Whether the engine file was called hers, where it was not called right."""
    called = [call.report for call in story.standing if call.report.what == plate.RIGHT.what]
    if called and called[-1] == plate.WRONG:
        words = "THE ENGINE FILE WAS CALLED WRONG: its marks and limits may be another engine's."
        return [TextPart(words, strong=True)]
    if any(step.name == plate.STEP for step in story.open_steps):
        words = "It was asked whether the engine file is hers, and not answered."
        return [TextPart(words, strong=True)]
    return []


def _day(story: Story, options: LogOptions) -> TablePart:
    engine, terms = story.engine, options.terms
    pairs = [("engine", story.header.engine_name)]
    if engine is not None:
        pairs += [("number", engine.number)] if engine.number else []
        pairs += [("owner", engine.owner)] if engine.owner else []
        figures = engine.engine
        allowed = figures.allowed_pressure_gauge_pa
        pairs.append(
            (
                "allowed pressure",
                "not in the engine file" if allowed is None else terms.gauge(allowed),
            )
        )
        pairs.append(
            (
                "wanted pressure",
                f"{terms.gauge(figures.working_pressure_gauge_pa)}; the valve lifts at"
                f" {terms.gauge(figures.valve_lifts_gauge_pa)}",
            )
        )
    peak = findings.peak(story)
    pairs += [
        ("begun", f"{terms.date(story.started)} {time_of_day(story.started, 0.0)}{_zone(story)}"),
        ("length", f"{duration(story.length_s)}; ended: {story.ended or 'not ended in the book'}"),
        ("highest pressure called", "none called" if peak is None else terms.report(peak)),
        ("kept", RECORDED_AS.get(story.header.how, story.header.how)),
    ]
    pairs += [("people (given for this page)", options.people)] if options.people else []
    pairs += [("weather (given for this page)", options.weather)] if options.weather else []
    return name_value_table(pairs)


def _zone(story: Story) -> str:
    moment = story.started
    return "" if moment is None or moment.tzinfo is None else f" ({moment:%z} from UTC)"


def _course(story: Story, terms: Terms) -> tuple[Picture | TextPart, ...]:
    """The chart and its key; words alone where there is nothing to draw."""
    drawn = {"pressure", "water", *SHOWN_STATES}
    if not story.alarms and not any(call.report.what in drawn for call in story.calls):
        return (TextPart("No pressure and no water was called: there is nothing to draw."),)
    return _picture(story, terms), TextPart(KEY)


def _picture(story: Story, terms: Terms) -> Picture:
    count = sum(call.report.what in {"pressure", "water"} for call in story.standing)
    words = (
        f"Pressure and water over time from {count} readings, with the phases, what was open or"
        f" burning, tests, notes and {len(story.alarms)} alarms. The figures are in the tables."
    )
    return Picture(words, cache(partial(draw, story, terms)))


def _record(story: Story) -> TablePart:
    journal, header = story.journal, story.header
    seal = journal.seal
    sealed = "not sealed"
    if seal is not None:
        sealed = f"{seal.digest} ({'holds' if seal.holds else 'DOES NOT HOLD'})"
    engine = header.text_of("engine")
    state = journal.state if journal.state == "whole" else f"{journal.state}: {journal.why}"
    return name_value_table(
        [
            ("journal", journal.path.name),
            ("state", state),
            (
                "records",
                f"{journal.count}; events and effects up to {time_since_start(story.length_s)}",
            ),
            ("seal", sealed),
            ("digest of the last line", journal.digest),
            ("written by", f"program version {header.program}, format {header.format}"),
            ("engine file", "none" if engine is None else f"SHA-256 {engine.sha256}"),
            *list_rows(header),
            (
                "proved by",
                "each line carries the hash of the line before it; only a digest written down"
                " elsewhere can show that the whole book was not written anew",
            ),
        ]
    )


def _signatures() -> tuple[TextPart | Blanks, ...]:
    return (
        TextPart(
            "Filled with a pen, by a person who was there; nothing below was heard or guessed."
        ),
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


def on_the_day(entries: Sequence[IndexEntry], story: Story) -> tuple[IndexEntry, ...]:
    """The journals of this engine that began before this one, and this one."""
    return tuple(
        entry for entry in entries if _begun(entry.started) <= _begun(story.header.started)
    )


def _begun(text: str) -> float:
    try:
        return datetime.datetime.fromisoformat(text).timestamp()
    except ValueError:
        return 0.0
