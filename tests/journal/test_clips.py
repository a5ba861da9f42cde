"""The sounds beside a journal: bounded, vouched for by the record, found out if changed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from assistant.journal import clips, reader
from assistant.journal.clips import ClipLimits, ClipStore
from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import Heard, NoteTaken

HEADER = Header(
    "Test engine", "2027-05-03T08:00:00+01:00", 1, 101_325.0,
    (KeptText("engine", "e.yaml", "name: x\n"),), "live",
)  # fmt: skip


def noted(path: Path, *sounds: bytes) -> Path:
    """A journal with a note for each of these sounds."""
    with Journal.create(path, HEADER) as journal:
        shelf = ClipStore(path)
        for at, sound in enumerate(sounds):
            name = shelf.keep(sound)
            journal.event(Heard(float(at), "ear", (), text="it weeps", clip=name))
            journal.effect(float(at), NoteTaken("it weeps", name))
        journal.sync()
    return path


def test_a_sound_is_kept_beside_the_journal_and_the_record_vouches_for_it(tmp_path: Path) -> None:
    path = noted(tmp_path / "day.jsonl", b"one", b"two")
    assert (tmp_path / "day.clips" / "note-001.flac").read_bytes() == b"one"
    kept = reader.read(path)
    assert kept.state == "whole"
    first, second = clips.check_clips(kept)
    assert (first.n, first.name, first.state, first.sound) == (2, "note-001.flac", "whole", b"one")
    assert (second.name, second.state) == ("note-002.flac", "whole")


def test_a_changed_and_a_missing_sound_are_named(tmp_path: Path) -> None:
    path = noted(tmp_path / "day.jsonl", b"one", b"two", b"three")
    folder = clips.folder_of(path)
    (folder / "note-001.flac").write_bytes(b"onf")
    (folder / "note-002.flac").unlink()
    found = clips.check_clips(reader.read(path))
    assert [clip.state for clip in found] == ["changed", "gone", "whole"]
    assert found[0].sound is None
    assert [clip.trouble for clip in found[:2]] == [
        "record 2: its sound note-001.flac was changed",
        "record 4: its sound note-002.flac is not there",
    ]


def test_bounds_of_number_and_size(tmp_path: Path) -> None:
    shelf = ClipStore(tmp_path / "day.jsonl", ClipLimits(most=2, most_bytes=1000))
    assert shelf.keep(b"x") == "note-001.flac"
    assert shelf.keep(b"x" * 1000) is None
    assert shelf.why == "the sounds of this journal would pass 0 MB"
    assert shelf.keep(b"x") == "note-002.flac"
    assert shelf.keep(b"x") is None
    assert shelf.why == "this journal has its 2 sounds"


def test_going_on_after_a_break_counts_what_is_there(tmp_path: Path) -> None:
    path = tmp_path / "day.jsonl"
    assert ClipStore(path).keep(b"one") == "note-001.flac"
    assert ClipStore(path).keep(b"two") == "note-002.flac"
    assert (ClipStore(path).count, ClipStore(path).size_bytes) == (2, 6)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_cannot_be_written_keeps_nothing_and_says_why(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    shelf = ClipStore(tmp_path / "day.jsonl")
    assert shelf.keep(b"one") is None
    assert "Permission denied" in shelf.why


def test_a_file_in_the_place_of_the_folder_keeps_nothing_and_says_why(tmp_path: Path) -> None:
    (tmp_path / "day.clips").write_text("in the way")
    shelf = ClipStore(tmp_path / "day.jsonl")
    assert shelf.keep(b"one") is None
    assert "cannot be written" in shelf.why


def test_a_name_that_leads_elsewhere_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "secret.flac").write_bytes(b"one")
    path = tmp_path / "day.jsonl"
    with Journal.create(path, HEADER) as journal:
        journal.event(Heard(0.0, "ear", (), clip="../secret.flac"))
        journal.sync()
    (found,) = clips.check_clips(reader.read(path))
    assert (found.state, found.sound) == ("gone", None)


def test_a_journal_without_sounds_has_none(tmp_path: Path) -> None:
    assert clips.check_clips(reader.read(noted(tmp_path / "day.jsonl"))) == ()


def test_sounds_are_for_their_owner_only(tmp_path: Path) -> None:
    store = ClipStore(tmp_path / "day.jsonl")
    name = store.keep(b"sound")
    assert name is not None
    assert store.folder.stat().st_mode & 0o777 == 0o700
    assert (store.folder / name).stat().st_mode & 0o777 == 0o600


def test_a_pipe_in_the_place_of_a_sound_is_a_sound_that_is_gone(tmp_path: Path) -> None:
    store = ClipStore(tmp_path / "day.jsonl")
    name = store.keep(b"sound")
    assert name is not None
    (store.folder / name).unlink()
    os.mkfifo(store.folder / name)
    assert clips.sha256_of(tmp_path / "day.jsonl", name) is None
