"""`footplate verify`: is this journal whole and unaltered?"""

from __future__ import annotations

import argparse

from assistant.commands.output import Out
from assistant.config import paths
from assistant.errors import InputWrongError, NotRightError
from assistant.journal import clips, reader
from assistant.journal.reader import JournalRecords


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `verify`."""
    parser.add_argument("journal", type=paths.journal)
    parser.add_argument(
        "--digest", help="the sixteen digits that were spoken at the end and written down on paper"
    )
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Verify; returns 0 when the journal is whole, raises NotRightError when not."""
    digest = _checked_digits(given.digest)
    journal = reader.read(given.journal)
    sounds = clips.check_clips(journal)
    wrong = [sound.trouble for sound in sounds if sound.trouble]
    state, why = _verdict(journal, digest)
    seal = None if journal.seal is None else journal.seal.digest
    out.record(
        {"journal": str(given.journal), "state": state, "records": journal.count,
         "where": journal.where, "why": why, "lost_bytes": journal.lost, "digest": journal.digest,
         "sealed": seal, "sounds": len(sounds), "sounds_wrong": wrong}
    )  # fmt: skip
    if journal.unusable and not journal.lost:
        raise NotRightError(f"{given.journal}: {journal.unusable}")
    troubles = [f"{state}: {why}"] if state != "whole" else []
    if troubles or wrong:
        raise NotRightError("\n".join(f"{given.journal}: {one}" for one in [*troubles, *wrong]))
    out.line(f"{given.journal}: {', '.join(_findings(journal, digest, len(sounds)))}")
    return 0


def _checked_digits(written: str | None) -> str | None:
    """The digest as written down; InputWrongError when it is too short to prove anything."""
    if written is not None and len("".join(written.split())) < reader.MIN_DIGITS:
        raise InputWrongError(
            f"--digest {written!r}: give the sixteen digits as they were written down, or the first"
            f" {reader.MIN_DIGITS} of them at least"
        )
    return written


def _verdict(journal: JournalRecords, digest: str | None) -> tuple[str, str]:
    state, why = journal.state, journal.why
    if state == "whole" and journal.seal is not None and not journal.seal.holds:
        return "altered", f"record {journal.seal.n}: the seal does not hold"
    if state != "whole" or digest is None or journal.has_digest(digest):
        return state, why
    if journal.seal is None:
        return "altered", f"it was never sealed, or its end was taken off: {digest} is not its"
    return "altered", f"it was sealed {journal.seal.digest}, not {digest}"


def _findings(journal: JournalRecords, digest: str | None, sounds: int) -> list[str]:
    found = ["whole", f"{journal.count} records"]
    if sounds:
        found.append(f"{sounds} sound{'' if sounds == 1 else 's'} as kept")
    if journal.seal is None:
        found.append("not sealed")
    else:
        after = journal.count - journal.seal.n - 1
        behind = f" (without the {after} records after the seal)" if after else ""
        found.append(f"sealed {journal.seal.digest}{behind}")
    if digest is not None:
        found.append("it is the one that was written down")
    return [*found, f"last line {journal.digest[:12]}"]
