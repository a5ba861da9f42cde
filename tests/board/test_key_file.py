"""The keys that outlive a run: for its book, for their owner, and without those taken back."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from assistant.board.key_file import KeyFile
from assistant.board.keys import Kept, Keys
from assistant.errors import WorldFailedError

BOOK = "2026-05-01T09-00-00_practice-engine.jsonl"


def keys_of(file: KeyFile) -> Keys:
    """Those of a run that goes on with the file's book."""
    return Keys(lambda: 0.0, file.kept(), file.keep)


def paired(keys: Keys) -> str:
    key = keys.pair(keys.pairing_code())
    assert key is not None
    return key


@pytest.fixture
def file(tmp_path: Path) -> KeyFile:
    made = KeyFile(tmp_path / ".practice-engine.board", BOOK)
    made.keep(Keys(lambda: 0.0).kept)
    return made


def test_a_run_that_goes_on_has_the_keys_of_the_run_before(file: KeyFile) -> None:
    before = keys_of(file)
    first, second = paired(before), paired(before)
    assert before.take_back("screen 1")
    after = keys_of(file)
    assert after.run_key == before.run_key
    assert after.screen_of(after.run_key) == "the board"
    assert after.screen_of(second) == "screen 2"
    assert after.screen_of(first) is None
    assert after.screen_of(paired(after)) is not None and after.kept.screens[-1][1] == "screen 3"


def test_a_pairing_code_does_not_outlive_its_run(file: KeyFile) -> None:
    code = keys_of(file).pairing_code()
    assert keys_of(file).pair(code) is None


def test_a_key_that_was_never_kept_is_none(file: KeyFile, tmp_path: Path) -> None:
    run_key = keys_of(file).run_key
    other = KeyFile(
        tmp_path / ".practice-engine.board", "2026-05-02T09-00-00_practice-engine.jsonl"
    )
    assert other.kept() is None
    assert KeyFile(tmp_path / "nowhere", BOOK).kept() is None
    assert keys_of(other).run_key != run_key


def test_it_is_the_owner_s_alone(file: KeyFile, tmp_path: Path) -> None:
    path = tmp_path / ".practice-engine.board"
    assert path.stat().st_mode & 0o777 == 0o600
    path.chmod(0o640)
    assert file.kept() is None  # others could have read it
    file.keep(Keys(lambda: 0.0).kept)
    assert path.stat().st_mode & 0o777 == 0o600 and file.kept() is not None
    path.rename(tmp_path / "elsewhere")
    path.symlink_to(tmp_path / "elsewhere")
    assert file.kept() is None
    file.keep(Keys(lambda: 0.0).kept)
    assert not path.is_symlink() and file.kept() is not None


def test_a_file_that_another_account_put_there_is_none(
    file: KeyFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    owner = os.getuid()
    monkeypatch.setattr(os, "getuid", lambda: owner + 1)
    assert file.kept() is None


@pytest.mark.parametrize(
    "spoiled",
    [
        b"", b"\xff", b"[]", b"[" * 50_000,
        b'{"book": "%s", "run_key": "", "screens": {}, "count": 0}' % BOOK.encode(),
        b'{"book": "%s", "run_key": 7, "screens": {}, "count": 0}' % BOOK.encode(),
        b'{"book": "%s", "run_key": "%s", "screens": {"": "screen 1"}, "count": 1}'
        % (BOOK.encode(), b"x" * 24),
    ],
)  # fmt: skip
def test_a_spoiled_file_opens_nothing(file: KeyFile, tmp_path: Path, spoiled: bytes) -> None:
    path = tmp_path / ".practice-engine.board"
    path.write_bytes(spoiled)
    assert file.kept() is None


def test_a_key_taken_back_does_not_come_back_where_nothing_can_be_written(
    file: KeyFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keys = keys_of(file)
    key = paired(keys)

    def full(*_: object) -> None:
        raise WorldFailedError("no space left")

    monkeypatch.setattr("assistant.board.key_file.write_whole", full)
    with pytest.raises(WorldFailedError):
        keys.take_back("screen 1")
    assert keys.screen_of(key) is None
    assert file.kept() is None
    assert paired(keys)  # a screen is paired all the same


def test_what_is_kept_is_what_is_read(file: KeyFile) -> None:
    kept = Kept("x" * 24, (("y" * 24, "screen 2"),), 5)
    file.keep(kept)
    assert file.kept() == kept
