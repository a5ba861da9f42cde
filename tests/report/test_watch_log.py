"""The page of one steam-up: what must stand on it, and what must not be hidden."""

from __future__ import annotations

from pathlib import Path

import pytest
from report_books import ENGINE, keep, many, reading

from assistant.journal.index import index_of
from assistant.journal.index_entry import IndexEntry
from assistant.messages import (
    AlarmChanged,
    Effect,
    Fault,
    ForecastMade,
    Grade,
    NoteTaken,
    ReadingCorrected,
    Report,
    Resumed,
    StepAsked,
    StepDone,
    StepSkipped,
)
from assistant.report.page import Blanks, Page, Picture, TablePart, TextPart
from assistant.report.page_html import html
from assistant.report.story import Story, read_story
from assistant.report.terms import Terms
from assistant.report.watch_log import LogOptions, on_the_day, watch_log


def page_of(
    story: Story, wanted: LogOptions | None = None, shelf: tuple[IndexEntry, ...] = ()
) -> Page:
    return watch_log(story, wanted or LogOptions(Terms()), shelf)


def under(page: Page, heading: str) -> str:
    """Everything written under a heading, cell by cell."""
    (section,) = [section for section in page.sections if section.heading == heading]
    told: list[str] = []
    for part in section.parts:
        match part:
            case TablePart():
                told += [" | ".join(map(str, row.cells)) for row in part.rows]
            case TextPart():
                told.append(part.text)
            case Blanks():
                told += part.names
            case Picture():
                told.append(part.words)
    return "\n".join(told)


@pytest.mark.parametrize(
    ("line", "written"), [("", "not in the engine file"), ("allowed_pressure: 10 bar\n", "145 psi")]
)
def test_the_allowed_pressure_stands_apart_from_the_working_pressure(
    tmp_path: Path, line: str, written: str
) -> None:
    page = page_of(read_story(keep(tmp_path, [], engine=ENGINE + line)))
    assert f"allowed pressure | {written}" in under(page, "Engine and day")
    assert "wanted pressure | 120 psi; the valve lifts at 145 psi" in under(page, "Engine and day")


@pytest.mark.parametrize(
    ("answers", "told"),
    [
        ([], "asked whether the engine file is hers, and not answered"),
        ([reading("plate", "wrong")], "THE ENGINE FILE WAS CALLED WRONG"),
        ([reading("plate", "right"), StepDone("preparation", "her plate", "plate right")], ""),
        ([reading("plate", "wrong"), reading("plate", "right"),
          StepDone("preparation", "her plate", "plate right")], ""),
    ],
)  # fmt: skip
def test_an_engine_file_not_called_right_stands_at_the_head(
    tmp_path: Path, answers: list[Effect], told: str
) -> None:
    said = [StepAsked("preparation", "her plate"), *answers]
    page = page_of(read_story(keep(tmp_path, [(9.0 * n, e) for n, e in enumerate(said)])))
    head = under(page, "")
    assert told in head if told else "engine file" not in head
    assert ("preparation: her plate" in under(page, "Open items")) == bool(told)


def test_a_correction_is_struck_and_both_are_kept(tmp_path: Path) -> None:
    old, new = Report("pressure", 65.0, "psi"), Report("pressure", 75.0, "psi")
    said = [(60.0, reading("pressure", 65.0, "psi")), (90.0, ReadingCorrected(old, new))]
    page = page_of(read_story(keep(tmp_path, said)))
    assert under(page, "Readings").splitlines() == [
        "08:01:00 | pressure | 65 psi | corrected at 08:01:30",
        "08:01:00 | pressure | 75 psi | stands instead, said at 08:01:30",
    ]
    written = html(page)
    assert "<td><s>65 psi</s></td><td>corrected at 08:01:30</td>" in written
    assert "<td>75 psi</td>" in written


def test_what_was_left_open_is_told(tmp_path: Path) -> None:
    page = page_of(
        read_story(
            keep(
                tmp_path,
                [
                    (5.0, StepAsked("firing", "wood bed")),
                    (6.0, StepSkipped("firing", "wood bed")),
                    (9.0, AlarmChanged("water low", Grade.DANGER, "raised", "0.2 of the glass")),
                    (10.0, NoteTaken("the clack weeps")),
                    (11.0, NoteTaken("", "clip-1.flac")),
                    (12.0, Fault("a bug")),
                ],
            )
        )
    )
    assert "firing: wood bed | left open aloud, 08:00:06" in under(page, "Open items")
    assert "alarm: water low | not cleared" in under(page, "Open items")
    assert "danger: water low | 0.2 of the glass | STOOD AT THE END" in under(page, "Alarms")
    assert "the clack weeps" in under(page, "Notes said aloud")
    assert "clip-1.flac is not beside the journal" in under(page, "Notes said aloud")
    assert "fault of the program: a bug" in under(page, "Breaks and faults")


def test_an_altered_journal_is_told_at_the_top_and_an_honest_one_is_not(tmp_path: Path) -> None:
    path = keep(tmp_path, [(10.0 * i, reading("pressure", 10.0 * i, "psi")) for i in range(5)])
    assert "THE JOURNAL IS" not in under(page_of(read_story(path)), "")
    path.write_bytes(path.read_bytes().replace(b"30.0,", b"31.0,", 1))
    assert "THE JOURNAL IS ALTERED" in under(page_of(read_story(path)), "")
    assert "altered" in under(page_of(read_story(path)), "The record")


def test_a_seal_is_printed_as_it_was_spoken(tmp_path: Path) -> None:
    story = read_story(keep(tmp_path, many(5), seal=True))
    assert story.journal.seal is not None
    assert f"{story.journal.seal.digest} (holds)" in under(page_of(story), "The record")


def test_due_dates_are_as_they_stood_on_the_day(tmp_path: Path) -> None:
    keep(tmp_path, many(61), "2027-04-20T08:00:00+01:00")  # an hour, less the first readings
    story = read_story(keep(tmp_path, many(61)))
    keep(tmp_path, many(61), "2027-05-09T08:00:00+01:00")  # later: not known on the day
    found, _ = index_of(tmp_path)
    shelf = on_the_day(found, story)
    assert len(shelf) == 2
    told = under(page_of(story, shelf=shelf), "Due dates")
    assert "hydraulic test | by 2027-05-01 | OVERDUE by 2 days" in told
    hours = 20.0 - sum(entry.in_steam_s for entry in shelf) / 3600.0
    assert 18.0 < hours < 19.0
    assert f"washout | every 20 h in steam | {hours:.1f} h left" in told
    assert "says nothing of what any law asks for" in told


def test_forecasts_stand_beside_what_came(tmp_path: Path) -> None:
    said = [
        (0.0, reading("pressure", 0.0, "psi")),
        (60.0, ForecastMade(60.0, 8.0, 10.0, 14.0, "")),
        (60.0, ForecastMade(200.0, 30.0, 40.0, 50.0, "")),
        (60.0, ForecastMade(200.0, None, None, None, "the fire is out")),
        (660.0, reading("pressure", 60.0, "psi")),
    ]
    told = under(page_of(read_story(keep(tmp_path, said))), "Forecasts, and what came")
    assert told.splitlines() == [
        "08:01:00 | 60 psi | 8 to 14 min, most likely 10 | 10 min",
        "08:01:00 | 200 psi | 30 to 50 min, most likely 40 | not reached in this book",
    ]


def test_only_a_person_fills_the_signatures(tmp_path: Path) -> None:
    page = page_of(read_story(keep(tmp_path, [])), LogOptions(Terms(), people="Ann Other"))
    assert "Ann Other" in under(page, "Engine and day")
    assert "Ann Other" not in under(page, "Signatures")
    assert page.sections[-1].heading == "Signatures"


@pytest.mark.parametrize(
    ("terms", "date", "pressure"),
    [
        (Terms(), "2027-05-03", "120 psi; the valve lifts at 145 psi"),
        (Terms("bar", "day"), "03 May 2027", "8.27 bar; the valve lifts at 10 bar"),
        (Terms("kPa", "month"), "May 03, 2027", "827 kPa; the valve lifts at 1000 kPa"),
    ],
)
def test_dates_and_units_as_the_owner_sets_them(
    tmp_path: Path, terms: Terms, date: str, pressure: str
) -> None:
    page = page_of(read_story(keep(tmp_path, [])), LogOptions(terms))
    assert page.under.startswith(date)
    assert f"wanted pressure | {pressure}" in under(page, "Engine and day")


def test_an_engine_file_of_another_form_is_no_hindrance(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("report_books.ENGINE", ENGINE.replace("volume: 110", "contents: 110"))
    story = read_story(keep(tmp_path, many(5)))
    assert story.engine is None
    assert "<svg" not in html(page_of(story)) and "data:image/svg" in html(page_of(story))


def test_a_break_is_told(tmp_path: Path) -> None:
    path = keep(tmp_path, many(3))
    from assistant.journal.writer import Journal

    with Journal.reopen(path, "Test engine") as journal:
        journal.event(Resumed(500.0, 300.0))
    told = under(page_of(read_story(path)), "Breaks and faults")
    assert "gone on after a break of 5 min" in told


def test_with_nothing_called_nothing_is_drawn(tmp_path: Path) -> None:
    page = page_of(read_story(keep(tmp_path, [])))
    (course,) = [section for section in page.sections if section.heading == "Course"]
    assert [type(part).__name__ for part in course.parts] == ["TextPart"]
    assert "nothing to draw" in under(page, "Course")


def test_heights_are_written_as_people_call_them(tmp_path: Path) -> None:
    said = [
        (60.0, reading("water", 2 / 3, "glass")),
        (70.0, reading("tank", 1.0, "tank")),
        (80.0, reading("water", 0.55, "glass")),
        (90.0, reading("water", 0.0, "glass")),
    ]
    told = under(page_of(read_story(keep(tmp_path, said))), "Readings")
    for words in ("⅔ of the glass", "full tank", "0.55 of the glass", "bottom of the glass"):
        assert words in told
