"""`footplate verify`: is this journal whole and unaltered?"""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.errors import NotRightError
from assistant.files import book, clips
from assistant.verbs.out import Out


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `verify`."""
    parser.add_argument("journal", type=Path)
    parser.add_argument(
        "--digest", help="the digest written down at the end (its beginning will do)"
    )
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Verify; returns 0 when the journal is whole, raises NotRightError when not."""
    kept = book.read(given.journal)
    state, why = kept.state, kept.why
    if state == "whole" and given.digest and not kept.has_digest(given.digest):
        state, why = "altered", f"its digest is {kept.digest[:12]}, not {given.digest}"
    sounds = clips.look(kept)
    wrong = [sound.told for sound in sounds if sound.told]
    out.record(
        {"journal": str(given.journal), "state": state, "records": len(kept.records),
         "where": kept.where, "why": why, "lost_bytes": kept.lost, "digest": kept.digest,
         "sounds": len(sounds), "sounds_wrong": wrong}
    )  # fmt: skip
    troubles = [f"{state}: {why}"] if state != "whole" else []
    if troubles or wrong:
        raise NotRightError("\n".join(f"{given.journal}: {one}" for one in [*troubles, *wrong]))
    beside = f", {len(sounds)} sounds as they were kept" if sounds else ""
    out.line(
        f"{given.journal}: whole, {len(kept.records)} records{beside}, digest {kept.digest[:12]}"
    )
    return 0
