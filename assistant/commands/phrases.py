"""`footplate phrases`: every accepted form of words, by what is expected."""

from __future__ import annotations

import argparse
from itertools import chain

from assistant.commands import options
from assistant.commands.output import Out
from assistant.grammar import names
from assistant.grammar.meaning_json import meaning_json
from assistant.grammar.phrases import listing

_KINDS = ("any", "pressure", "water", "tank", "answer")


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `phrases`."""
    parser.add_argument("--expect", choices=_KINDS, default="any", help="what has just been asked")
    options.add_people(parser)
    parser.add_argument("--containing", metavar="WORDS", help="only sentences with these words")
    parser.add_argument("--json", action="store_true", help="one JSON object a sentence")


def run(given: argparse.Namespace, out: Out) -> int:
    """List them; returns 0."""
    wanted = (given.containing or "").lower()
    count = 0
    people = options.people_of(given)
    sentences = chain(listing(given.expect), names.forms(people))
    for sentence, meaning in sentences:
        if wanted in sentence:
            count += 1
            if out.json:
                out.record({"sentence": sentence, "meaning": meaning_json(meaning)})
            else:
                out.line(sentence)
    out.tell(f"{count} sentences are accepted when {given.expect!r} is expected")
    return 0
