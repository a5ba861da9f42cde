"""Every journal of tests/data: whole, readable, and what a replay makes of it.

`session_*.jsonl` are real sessions, silent practices (`footplate rehearse --silent`), each named
after the version that wrote it. Those of this version must replay to the same effects, word for
word; those of older versions to the same facts. `format_1.jsonl` holds every message and was never
a session, so it is read, not replayed.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from assistant import __version__
from assistant.commands.replay import replay
from assistant.commands.session_build import session_config_of
from assistant.dialogue.session import Session
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.messages import ForecastMade, Say

FOLDER = Path(__file__).parent.parent / "data" / "journals"
ALL = sorted(FOLDER.glob("*.jsonl"))
SESSIONS = sorted(FOLDER.glob("session_*.jsonl"))


def test_there_is_a_session_of_this_version_and_one_of_an_older() -> None:
    wrote = {reader.require_header(reader.read(path)).program for path in SESSIONS}
    assert __version__ in wrote
    assert wrote - {__version__}


@pytest.mark.parametrize("path", ALL, ids=lambda path: path.stem)
def test_each_is_whole_and_every_record_is_read(path: Path) -> None:
    kept = reader.read(path)
    assert (kept.state, kept.lost, kept.unusable) == ("whole", 0, "")
    assert len(list(kept.exchanges())) == len(kept.events()) > 5


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)
def test_a_session_replays_to_the_record(path: Path) -> None:
    header = reader.require_header(reader.read(path))
    assert path.name.startswith(f"session_{header.program}_")
    replayed = replay(path)
    assert replayed.events > 50
    assert replayed.differing == ()
    if header.program == __version__:
        assert replayed.reworded == 0


def test_words_may_differ_in_a_journal_of_another_version_only(tmp_path: Path) -> None:
    """A journal whose sentences are others than ours, as an older program would have said them."""
    kept = reader.read(SESSIONS[-1])
    header = reader.require_header(kept)
    session = Session(session_config_of(header))
    path = tmp_path / "other.jsonl"
    with Journal.create(path, header) as journal:
        for event in kept.events():
            journal.event(event)
            for effect in session.handle(event):
                said = isinstance(effect, Say)
                journal.effect(event.at, Say("Old words.", effect.urgency) if said else effect)
        journal.sync()
    same_version = replay(path, version=__version__)
    assert len(same_version.differing) > 5
    assert same_version.reworded == 0
    other_version = replay(path, version="99.0")
    assert other_version.differing == ()
    assert other_version.reworded == len(same_version.differing)


@pytest.mark.parametrize(("changed_by", "differ"), [(3e-16, False), (1e-10, False), (1e-3, True)])
def test_the_last_digits_of_a_figure_are_no_difference(
    tmp_path: Path, changed_by: float, differ: bool
) -> None:
    """Seen: two processors of one make round the same exponential otherwise."""
    kept = reader.read(SESSIONS[-1])
    path = tmp_path / "other.jsonl"
    forecasts = 0
    with Journal.create(path, reader.require_header(kept)) as journal:
        for turn in kept.exchanges():
            journal.event(turn.event)
            for effect in turn.effects:
                if isinstance(effect, ForecastMade) and effect.low is not None:
                    forecasts += 1
                    effect = replace(effect, low=effect.low * (1 + changed_by))
                journal.effect(turn.event.at, effect)
        journal.sync()
    assert forecasts > 5
    assert (len(replay(path).differing) > 5) == differ


def test_passing_messages_over_leaves_every_other_record_and_every_proof() -> None:
    kept, fewer = reader.read(SESSIONS[-1]), reader.read(SESSIONS[-1], without=("Tick", "Say"))
    said = [record.payload.get(record.kind) for record in kept.records]
    wanted = tuple(
        record
        for record, message in zip(kept.records, said, strict=True)
        if not (isinstance(message, dict) and message.get("is") in ("Tick", "Say"))
    )
    assert fewer.records == wanted
    assert (fewer.count, fewer.digest) == (kept.count, kept.digest)
    assert fewer.header == kept.header
