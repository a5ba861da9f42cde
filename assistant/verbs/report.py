"""`footplate report`: a journal in; a page, chart or table out, by the name given to --out."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.boiler.scales import PRESSURE_PA
from assistant.errors import InputWrongError
from assistant.files import shelf
from assistant.report.story import Story, read_story
from assistant.report.terms import DATES, Terms
from assistant.report.watch_log import Wanted, on_the_day, watch_log
from assistant.verbs.out import Out

FORMS = (".html", ".pdf", ".csv")


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `report`."""
    parser.add_argument("journal", type=Path)
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
    story = read_story(given.journal)
    if form == ".csv":
        from assistant.report.table_csv import table_csv

        content = table_csv(story).encode()
    else:
        content = _page(story, given, form)
    given.out.write_bytes(content)
    if story.kept.state != "whole":
        out.tell(f"{given.journal}: {story.kept.state}: {story.kept.why}")
    out.record({"journal": str(given.journal), "out": str(given.out), "bytes": len(content),
                "readings": len(story.standing), "state": story.kept.state})  # fmt: skip
    out.line(f"{given.out}: {len(story.standing)} readings, {len(story.alarms)} alarms")
    return 0


def _page(story: Story, given: argparse.Namespace, form: str) -> bytes:
    dial = story.engine.pressure_unit if story.engine is not None else "psi"
    wanted = Wanted(Terms(given.units or dial, given.dates), given.people, given.weather)
    page = watch_log(story, wanted, _shelf(story))
    if form == ".pdf":
        from assistant.report.page_pdf import pdf

        return pdf(page)
    from assistant.report.page_html import html

    return html(page).encode()


def _shelf(story: Story) -> tuple[shelf.Entry, ...]:
    """This engine's journals beside this one; only where hours in steam are counted."""
    engine = story.engine
    if engine is None or all(due.every_hours is None for due in engine.due):
        return ()
    found, _ = shelf.entries(story.kept.path.resolve().parent, story.header.engine_name)
    return on_the_day(found, story)
