"""`footplate card`: an engine in; a sheet for the cab out, to be printed and laminated."""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.commands import options
from assistant.commands.output import Out
from assistant.commands.session_build import emergencies_path
from assistant.config.atomic_write import write_whole
from assistant.config.emergencies_file import load_emergencies
from assistant.errors import InputWrongError
from assistant.report.card import card_of

FORMS = (".pdf", ".html")


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `card`."""
    options.add_engine(parser)
    options.add_checklist(parser)
    parser.add_argument(
        "--out", required=True, type=Path, metavar="FILE", help="card.pdf or card.html"
    )


def run(given: argparse.Namespace, out: Out) -> int:
    """Write the card; returns 0."""
    form = given.out.suffix.lower()
    if form not in FORMS:
        raise InputWrongError(f"{given.out}: the name must end in {', '.join(FORMS)}")
    engine = options.engine_of(given, out)
    card = card_of(engine, load_emergencies(emergencies_path(map(Path, given.checklist))))
    if form == ".pdf":
        from assistant.report.card_pdf import card_pdf

        try:
            content = card_pdf(card)
        except ValueError as wrong:
            raise InputWrongError(f"{wrong}: shorten the acts, or take the .html") from None
    else:
        from assistant.report.card_html import card_html

        content = card_html(card).encode(errors="backslashreplace")
    write_whole(given.out, content)
    out.line(f"{given.out}: both sides of an A5 sheet for {card.name}")
    return 0
