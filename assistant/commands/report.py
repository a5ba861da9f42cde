"""`footplate report`: a journal in; a page, chart or table out, by the name given to --out."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.boiler.scales import PRESSURE_PA
from assistant.commands.output import Out
from assistant.config import paths
from assistant.config.atomic_write import write_whole
from assistant.errors import InputWrongError
from assistant.journal import index
from assistant.journal.index_entry import IndexEntry
from assistant.report.page import Page
from assistant.report.story import Story, read_story
from assistant.report.terms import DATES, Terms
from assistant.report.watch_log import LogOptions, on_the_day, watch_log

FORMS = (".html", ".pdf", ".csv")


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `report`."""
    parser.add_argument("journal", type=paths.journal, nargs="?")
    parser.add_argument(
        "--compare", type=paths.journal, nargs="+", default=[], metavar="JOURNAL",
        help="lay several steam-ups of one engine over each other",
    )  # fmt: skip
    parser.add_argument(
        "--out", required=True, type=Path, metavar="FILE", help="page.html, page.pdf or page.csv"
    )
    parser.add_argument(
        "--units", choices=sorted(PRESSURE_PA), help="of pressures; default: the engine's dial"
    )
    parser.add_argument("--dates", choices=sorted(DATES), default="iso", help="how dates are put")
    parser.add_argument("--people", default="", help="printed as given; not in the journal")
    parser.add_argument("--weather", default="", help="printed as given; not in the journal")
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Report; returns 0."""
    form = given.out.suffix.lower()
    if form not in FORMS:
        raise InputWrongError(f"{given.out}: the name must end in {', '.join(FORMS)}")
    named = [*([given.journal] if given.journal else []), *given.compare]
    if not named:
        raise InputWrongError("name a journal, or several with --compare")
    stories = [read_story(path) for path in named]
    if given.compare:
        content = _comparison(stories, given, form)
    else:
        content = _watch_log(stories[0], given, form)
    write_whole(given.out, content)
    for story in stories:
        _print(story, given.out, len(content), out)
    return 0


def _print(story: Story, written: Path, size: int, out: Out) -> None:
    journal = story.journal
    if journal.state != "whole":
        out.tell(f"{journal.path}: {journal.state}: {journal.why}")
    out.record({"journal": str(journal.path), "out": str(written), "bytes": size,
                "readings": len(story.standing), "state": journal.state})  # fmt: skip
    out.line(f"{written}: {len(story.standing)} readings, {len(story.alarms)} alarms")


def _watch_log(story: Story, given: argparse.Namespace, form: str) -> bytes:
    if form == ".csv":
        from assistant.report.table_csv import table_csv

        return table_csv(story).encode(errors="backslashreplace")
    wanted = LogOptions(_terms(story, given), given.people, given.weather)
    return _printed(watch_log(story, wanted, _same_engine_journals(story)), form)


def _comparison(stories: list[Story], given: argparse.Namespace, form: str) -> bytes:
    from assistant.report.compare import comparison, comparison_csv

    terms = _terms(stories[-1], given)
    if form == ".csv":
        return comparison_csv(stories, terms).encode(errors="backslashreplace")
    return _printed(comparison(stories, terms), form)


def _terms(story: Story, given: argparse.Namespace) -> Terms:
    dial = story.engine.pressure_unit if story.engine is not None else "psi"
    return Terms(given.units or dial, given.dates)


def _printed(page: Page, form: str) -> bytes:
    if form == ".pdf":
        from assistant.report.page_pdf import pdf

        return pdf(page)
    from assistant.report.page_html import html

    return html(page).encode(errors="backslashreplace")


def _same_engine_journals(story: Story) -> tuple[IndexEntry, ...]:
    """This engine's journals beside this one; only where hours in steam are counted."""
    engine = story.engine
    if engine is None or all(due.every_hours is None for due in engine.due):
        return ()
    found, _ = index.index_of(story.journal.path.resolve().parent, story.header.engine_name)
    return on_the_day(found, story)
