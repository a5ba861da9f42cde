"""Going on after a break: what is asked again, a clock set back, a second writer."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest
from shell import footplate, newer, run, scripted, written

from assistant.commands.break_length import CLOCK_SET_BACK, DISAGREE
from assistant.commands.resume import resume
from assistant.commands.session_build import header_of, session_config_of
from assistant.config.engine_file import find_engine
from assistant.dialogue.session import Session
from assistant.errors import InputWrongError, WorldFailedError
from assistant.journal import reader
from assistant.journal.lock import BusyError, lock_engine
from assistant.journal.writer import Journal
from assistant.messages import Resumed, Say, Started, Tick
from assistant.recogniser.typed_recogniser import hear_typed

pytestmark = pytest.mark.real  # how long a break was is read from the clock

KEPT = Path(__file__).parent.parent / "data" / "journals" / "session_0.1.0_practice.jsonl"
NAME = "Practice engine"
SAID = ("water half", "comes back at once", "pressure sixty", "fire is built")


def interrupted(folder: Path, said: tuple[str, ...] = SAID, begun: bool = True) -> Path:
    """A session taken over warm, and killed: its journal does not end."""
    began = time.localtime(time.time() - 10.0 * len(said if begun else ()))
    started = time.strftime("%Y-%m-%dT%H:%M:%S%z", began)
    header = header_of(find_engine("practice"), started, 1, "typed")
    session = Session(session_config_of(header))
    path = folder / "2026-05-01T09-00-00_practice-engine.jsonl"
    with Journal.create(path, header) as journal:
        events = [Started(0.0, "raising steam")] if begun else []
        for event in events:
            journal.event(event)
            for effect in session.handle(event):
                journal.effect(event.at, effect)
        for n, words in enumerate(said if begun else (), 1):
            heard = hear_typed(words, session.expected, 10.0 * n)
            journal.event(heard)
            for effect in session.handle(heard):
                journal.effect(heard.at, effect)
        journal.sync()
    return path


def words(session: Session, event: object) -> str:
    effects = session.handle(event)  # type: ignore[arg-type]
    return " ".join(effect.text for effect in effects if isinstance(effect, Say))


def test_where_we_were_then_water_pressure_and_the_step_in_hand(tmp_path: Path) -> None:
    path = interrupted(tmp_path)
    back = resume(tmp_path, NAME, now_s=path.stat().st_mtime + 600.0)
    back.journal.close()
    assert isinstance(back.first, Resumed)
    assert back.first.away_s == pytest.approx(600.0)
    assert back.first.at == pytest.approx(640.0)
    told = words(back.session, back.first)
    assert "Raising steam." in told
    assert "Last done: fire" in told
    assert "Where is the water? Then: valve lifted today, gauge agreeing?" in told
    told = words(back.session, hear_typed("water half", back.session.expected, 650.0))
    told += words(back.session, Tick(656.0))
    assert "What is the pressure?" in told
    told = words(back.session, hear_typed("pressure sixty", back.session.expected, 660.0))
    assert "Pressure six zero. Sixty." in told
    assert back.notice == ""


def test_a_clock_that_was_set_back_is_said_and_time_does_not_run_backwards(
    tmp_path: Path,
) -> None:
    path = interrupted(tmp_path)
    back = resume(tmp_path, NAME, now_s=path.stat().st_mtime - 3600.0)
    back.journal.close()
    assert back.notice == CLOCK_SET_BACK
    assert back.first == Resumed(40.0, 0.0)


def test_a_session_that_never_began_begins(tmp_path: Path) -> None:
    interrupted(tmp_path, begun=False)
    back = resume(tmp_path, NAME)
    back.journal.close()
    assert back.first == Started(0.0, plate=True)


def test_while_one_writes_it_nobody_else_may(tmp_path: Path) -> None:
    path = interrupted(tmp_path)
    with (
        Journal.reopen(path, NAME),
        pytest.raises(WorldFailedError, match=r"another run .* Practice engine"),
    ):
        resume(tmp_path, NAME)
    back = resume(tmp_path, NAME)
    back.journal.close()


def test_while_it_is_read_nobody_else_may_write_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    interrupted(tmp_path)
    read = reader.last_unfinished

    def tried_meanwhile(folder: Path, name: str) -> reader.JournalRecords | None:
        with pytest.raises(BusyError):
            lock_engine(folder, name)
        return read(folder, name)

    monkeypatch.setattr(reader, "last_unfinished", tried_meanwhile)
    resume(tmp_path, NAME).journal.close()
    lock_engine(tmp_path, NAME).release()


@pytest.mark.parametrize("there", [True, False])
def test_where_there_is_none_it_says_so_and_holds_nothing(tmp_path: Path, there: bool) -> None:
    folder = tmp_path if there else tmp_path / "away"
    with pytest.raises(InputWrongError, match="there is none at all"):
        resume(folder, NAME)
    lock_engine(tmp_path, NAME).release()


def test_gone_on_with_the_journal_stays_whole_and_replays(tmp_path: Path) -> None:
    from assistant.commands.replay import replay

    path = interrupted(tmp_path)
    raw = path.read_bytes()
    path.write_bytes(raw[: len(raw) - 7])  # the power went while the last record was written
    back = resume(tmp_path, NAME)
    with back.journal as journal:
        journal.event(back.first)
        for effect in back.session.handle(back.first):
            journal.effect(back.first.at, effect)
        journal.sync()
    kept = reader.read(path)
    assert kept.state == "whole"
    assert [record.kind for record in kept.records].count("torn") == 1
    replayed = replay(path)
    assert (replayed.events, replayed.differing, replayed.interrupted) == (6, (), 1)


def test_broken_off_anywhere_nothing_confirmed_is_asked_again() -> None:
    """A whole practice, broken off behind every event that left an effect: 60 s after going on, no
    step that was done has been asked for again, and nothing that was read has gone."""
    from assistant.messages import StepAsked, StepDone, StepSkipped

    kept = reader.read(KEPT)
    parts = session_config_of(reader.require_header(kept))
    session = Session(parts)
    done: set[tuple[str, str]] = set()
    cuts = ever_asked = 0
    for turn in kept.exchanges():
        session.handle(turn.event)
        for effect in turn.effects:
            if isinstance(effect, StepDone):
                done.add((effect.phase, effect.step))
            if isinstance(effect, StepAsked | StepSkipped):
                done.discard((effect.phase, effect.step))
        if not turn.effects or session.state.clock.over:
            continue
        cuts += 1
        again = Session(parts)
        again.state = session.state  # what a replay of everything up to here gives
        at = turn.event.at
        asked = [
            (effect.phase, effect.step)
            for event in (Resumed(at + 60.0, 60.0), Tick(at + 65.0), Tick(at + 120.0))
            for effect in again.handle(event)
            if isinstance(effect, StepAsked)
        ]
        ever_asked += len(asked)
        assert not set(asked) & done, f"at {at:.0f} s"
        assert again.state.reports == session.state.reports
    assert cuts > 80
    assert ever_asked, "nothing was ever asked: the test would see nothing"


def test_resuming_when_all_have_ended_names_the_last_and_says_what_to_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    written(tmp_path / "2026-05-01_a.jsonl")
    last = written(tmp_path / "2026-05-02_b.jsonl")
    code, _, err = run(capsys, "run", "--resume", "--typed", "--mute", "--engine", "practice",
                       "--out", tmp_path)  # fmt: skip
    assert code == 2
    assert f"the last one, {last.name}, came to its end" in err
    assert "without --resume" in err


def test_resuming_where_there_is_no_journal_at_all(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, _, err = run(capsys, "run", "--resume", "--typed", "--mute", "--engine", "practice",
                       "--out", tmp_path / "none")  # fmt: skip
    assert code == 2
    assert "there is none at all" in err


def test_a_live_run_goes_on_with_no_journal_of_invented_figures(tmp_path: Path) -> None:
    """The file named may be the owner's: the session is made of the figures in the journal."""
    interrupted(tmp_path)
    with pytest.raises(InputWrongError, match=r"practice\.yaml: its figures are invented"):
        resume(tmp_path, NAME, live=True)
    back = resume(tmp_path, NAME)  # typed: and nobody holds the journal
    back.journal.close()
    assert isinstance(back.first, Resumed)


def test_a_newer_journal_beside_it_does_not_stop_a_resumption(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from assistant.journal import reader

    unfinished = written(tmp_path / "2026-05-01_a.jsonl", end=False)
    newer(tmp_path / "2026-06-01_n.jsonl")
    (tmp_path / "2026-06-02_z.jsonl").touch()
    found = reader.last_unfinished(tmp_path, "Practice engine")
    assert found is not None
    assert found.path == unfinished


def test_a_changed_journal_is_not_gone_on_with(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path / "2026-05-01_a.jsonl", end=False)
    path.write_bytes(path.read_bytes().replace(b'"value":20.0', b'"value":25.0'))
    code, _, err = run(capsys, "run", "--resume", "--typed", "--mute", "--engine", "practice",
                       "--out", tmp_path)  # fmt: skip
    assert code == 1
    assert f"{path}: was altered and is not gone on with: record" in err
    assert "begin a new one without --resume" in err


def test_a_journal_that_was_cut_is_told_and_gone_on_with(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    journal = scripted(capsys, tmp_path)
    lines = journal.read_bytes().splitlines(keepends=True)
    ended = next(i for i, line in enumerate(lines) if b'"is":"StopAsked"' in line)
    journal.write_bytes(b"".join(lines[:ended]) + lines[ended][:20])
    code, _, err = run(capsys, "verify", str(journal))
    assert code == 1
    assert "cut" in err
    done = footplate(
        "run", "--resume", "--typed", "--mute", "--engine", "practice",
        "--out", str(journal.parent), stdin="where are we\n",
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "Where is the water?" in done.stdout
    assert run(capsys, "verify", str(journal))[0] == 0
    assert run(capsys, "replay", str(journal))[0] == 0


@pytest.mark.parametrize("moved_s", [1800.0, -56 * 365 * 86_400.0, 5 * 86_400.0])
def test_a_date_that_was_changed_does_not_shorten_the_break(tmp_path: Path, moved_s: float) -> None:
    """Copied from a back-up or touched: the book's own times are a second witness."""
    path = interrupted(tmp_path)
    now_s = path.stat().st_mtime + 1800.0
    os.utime(path, (path.stat().st_mtime + moved_s,) * 2)
    back = resume(tmp_path, NAME, now_s=now_s)
    back.journal.close()
    assert back.notice == DISAGREE
    assert isinstance(back.first, Resumed)
    assert back.first.away_s == pytest.approx(1800.0, abs=3.0)


def test_a_start_that_failed_hides_no_broken_off_session(tmp_path: Path) -> None:
    real = interrupted(tmp_path)
    later = header_of(find_engine("practice"), "2026-12-01T09:00:00+00:00", 1, "live")
    Journal.create(tmp_path / "2099-12-01T09-00-00_practice-engine.jsonl", later).close()
    back = resume(tmp_path, NAME)
    back.journal.close()
    assert back.journal.path == real


def test_a_book_in_which_nothing_happened_is_taken_away_and_no_other(tmp_path: Path) -> None:
    header = header_of(find_engine("practice"), "2026-05-01T09:00:00+00:00", 1, "live")
    journal = Journal.create(tmp_path / "a.jsonl", header)
    journal.discard()
    assert not (tmp_path / "a.jsonl").exists()
    journal = Journal.create(tmp_path / "b.jsonl", header)
    journal.event(Started(0.0))
    journal.discard()
    path = interrupted(tmp_path)
    with Journal.reopen(path, NAME) as journal:
        journal.discard()
    assert path.exists() and (tmp_path / "b.jsonl").exists()
