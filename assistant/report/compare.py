"""Several steam-ups of one engine over each other: times to a pressure, water and fuel."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from functools import cache, partial

from assistant.boiler.scales import PRESSURE_PA
from assistant.errors import InputWrongError
from assistant.report import findings
from assistant.report.compare_chart import draw_over
from assistant.report.page import Page, Picture, Section, TablePart, TableRow, TextPart
from assistant.report.story import Story
from assistant.report.terms import Terms, duration, time_of_day
from assistant.report.watch_log import CAUTION

# Times are given to these two pressures, round figures of the unit, and the wanted pressure.
_MARKS = {"psi": (20, 60), "bar": (1.5, 4), "kPa": (150, 400), "kgf/cm2": (1.5, 4)}
RECORDED_SHORT = {"live": "live", "typed": "typed", "script": "a script", "rehearsal": "a practice"}
_COLUMNS = ("water_gone_kg", "fed_litres", "coal_kg", "alarms", "book")


def one_engine(stories: Sequence[Story]) -> str:
    """The name of the engine. InputWrongError when there are two, or fewer than two journals."""
    names = {story.header.engine_name for story in stories}
    if len(stories) < 2:
        raise InputWrongError("to compare, name two journals or more")
    if len(names) > 1:
        raise InputWrongError(f"of different engines: {', '.join(sorted(names))}")
    return names.pop()


def comparison(stories: Sequence[Story], terms: Terms) -> Page:
    """The page: chart, then a table with a row for each steam-up."""
    name = one_engine(stories)
    stories = sorted(stories, key=lambda story: story.header.started)
    names = _names(stories, terms)
    origins = [_origin_s(story) for story in stories]
    words = f"Pressure and water of {len(stories)} steam-ups, from lighting the fire on."
    picture = Picture(words, cache(partial(draw_over, stories, origins, names, terms)))
    unlit = [n for n, s in zip(names, stories, strict=True) if findings.lit_s(s) is None]
    unlit_note = TextPart(
        f"The lighting of the fire was not called, so counted from the start: {', '.join(unlit)}."
    )
    return Page(
        f"Steam-ups compared: {name}",
        f"{len(stories)} journals, from {terms.date(stories[0].started)}"
        f" to {terms.date(stories[-1].started)}",
        (
            Section("", (TextPart(CAUTION, strong=True),)),
            Section("Course", (picture, *([unlit_note] if unlit else []))),
            Section("Times from lighting the fire", (_times(stories, names, terms),)),
            Section("Water and fuel", (_used(stories, names),)),
            Section("The books", (_rest(stories, names, terms),)),
        ),
    )


def comparison_csv(stories: Sequence[Story], terms: Terms) -> str:
    """A row for each steam-up, plain numbers; an empty cell where nothing is known."""
    one_engine(stories)
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    marks = [f"minutes_to_{mark:g}_{terms.pressure}" for mark in _MARKS[terms.pressure]]
    writer.writerow(["started", *marks, "minutes_to_working", *_COLUMNS])
    for story in sorted(stories, key=lambda story: story.header.started):
        reached = [findings.reached_s(story, pa) for pa in _targets_pa(story, terms)]
        origin_s = _origin_s(story)
        times = ["" if at is None else f"{max(at - origin_s, 0.0) / 60:.1f}" for at in reached]
        used = findings.used_in_run(story)
        fed = None if used.fed_m3 is None else findings.litres(used.fed_m3)
        numbers = ["" if n is None else f"{n:.2f}" for n in (used.water_kg, fed, used.fuel_kg)]
        row = [story.header.started, *times, *numbers, len(story.alarms), story.journal.state]
        writer.writerow(row)
    return text.getvalue()


def _targets_pa(story: Story, terms: Terms) -> list[float]:
    """The two marks and the wanted pressure [Pa gauge]; infinite where that is unknown."""
    engine = story.engine
    working = float("inf") if engine is None else engine.engine.working_pressure_gauge_pa
    return [*(mark * PRESSURE_PA[terms.pressure] for mark in _MARKS[terms.pressure]), working]


def _names(stories: Sequence[Story], terms: Terms) -> list[str]:
    """Numbered, so that two of one day can be distinguished."""
    return [
        f"{number}: {terms.date(story.started)} {time_of_day(story.started, 0.0)[:5]}"
        for number, story in enumerate(stories, 1)
    ]


def _origin_s(story: Story) -> float:
    return findings.lit_s(story) or 0.0


def _times(stories: Sequence[Story], names: Sequence[str], terms: Terms) -> TablePart:
    rows = [
        TableRow((name, *(_reached(story, pa) for pa in _targets_pa(story, terms))))
        for story, name in zip(stories, names, strict=True)
    ]
    marks = (f"to {mark:g} {terms.pressure}" for mark in _MARKS[terms.pressure])
    return TablePart(("steam-up", *marks, "to wanted pressure"), tuple(rows), (3, 2, 2, 3))


def _reached(story: Story, gauge_pa: float) -> str:
    reached_s = findings.reached_s(story, gauge_pa)
    if reached_s is None:
        return "not reached"
    return duration(max(reached_s - _origin_s(story), 0.0))


def _used(stories: Sequence[Story], names: Sequence[str]) -> TablePart:
    rows = []
    for story, name in zip(stories, names, strict=True):
        used = findings.used_in_run(story)
        rows.append(
            TableRow(
                (
                    name,
                    "not known" if used.water_kg is None else f"about {used.water_kg:.1f} kg",
                    "not known"
                    if used.fed_m3 is None
                    else f"{findings.litres(used.fed_m3):.1f} litres",
                    "not known" if used.fuel_kg is None else f"about {used.fuel_kg:.1f} kg",
                )
            )
        )
    head = ("steam-up", "water gone, reckoned", "fed, by the tank", "coal, rough reckoning")
    return TablePart(head, tuple(rows), (4, 3, 3, 3))


def _rest(stories: Sequence[Story], names: Sequence[str], terms: Terms) -> TablePart:
    rows = []
    for story, name in zip(stories, names, strict=True):
        peak = findings.peak(story)
        rows.append(
            TableRow(
                (
                    name,
                    RECORDED_SHORT.get(story.header.how, story.header.how),
                    "none called" if peak is None else terms.report(peak),
                    str(len(story.alarms)),
                    story.journal.state,
                )
            )
        )
    return TablePart(
        ("steam-up", "kept", "highest", "alarms", "book"), tuple(rows), (4, 4, 3, 3, 3)
    )
