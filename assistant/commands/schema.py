"""`footplate schema`: what a file may hold, as JSON Schema, for an editor."""

from __future__ import annotations

import argparse
import json

from assistant.commands.output import Out
from assistant.config.json_schema import KINDS, schema_of


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `schema`."""
    parser.add_argument("kind", choices=KINDS, help="the kind of file")


def run(given: argparse.Namespace, out: Out) -> int:
    """Print the schema on standard output; returns 0."""
    for line in json.dumps(schema_of(given.kind), indent=2).splitlines():
        out.line(line)
    return 0
