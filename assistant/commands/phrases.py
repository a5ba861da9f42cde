"""`footplate phrases`: every accepted form of words, by what is expected; for a person, the few."""

from __future__ import annotations

import argparse
import sys
from itertools import chain

from assistant.commands import options
from assistant.commands.output import Out
from assistant.grammar import names
from assistant.grammar.meaning_json import meaning_json
from assistant.grammar.phrases import listing
from assistant.messages import ExpectedKind
from assistant.wording.things_to_say import GROUPS, sayings

_KINDS = ("any", "pressure", "water", "tank", "answer")


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `phrases`."""
    parser.add_argument(
        "--expect", choices=_KINDS, help="list what is accepted when this has just been asked (any)"
    )
    parser.add_argument(
        "--all",
        action="store_true",
        help="the whole listing also on a terminal, where the few that matter are printed",
    )
    parser.add_argument(
        "--few", action="store_true", help="the few that matter, in groups, wherever it is printed"
    )  # fmt: skip
    options.add_people(parser)
    parser.add_argument("--containing", metavar="WORDS", help="only sentences with these words")
    parser.add_argument("--json", action="store_true", help="one JSON object a sentence")


def run(given: argparse.Namespace, out: Out) -> int:
    """List them; returns 0."""
    whole = given.all or given.json or given.expect or given.containing or given.people
    if given.few or not (whole or not sys.stdout.isatty()):
        _few(out)
        return 0
    expect: ExpectedKind = given.expect or "any"
    wanted = (given.containing or "").lower()
    count = 0
    people = options.people_of(given)
    sentences = chain(listing(expect), names.forms(people))
    for sentence, meaning in sentences:
        if wanted in sentence:
            count += 1
            if out.json:
                out.record({"sentence": sentence, "meaning": meaning_json(meaning)})
            else:
                out.line(sentence)
    out.tell(f"{count} sentences are accepted when {expect!r} is expected")
    return 0


def _few(out: Out) -> None:
    """One form of each thing worth knowing, and how it varies."""
    every = sayings()
    wide = max(len(saying.form) for saying in every)
    for group in GROUPS:
        out.line(f"{group[0].upper()}{group[1:]}")
        for saying in (each for each in every if each.group == group):
            out.line(f"  {saying.form:<{wide}}  {saying.varies}".rstrip())
    out.line("Every form: footplate phrases --all; with a word in it: --containing WORD.")
