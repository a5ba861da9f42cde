"""Notes said aloud on the page: played from the HTML alone, named on paper, bounded."""

from __future__ import annotations

import base64
import re
from pathlib import Path

import numpy as np
from report_books import ENGINE, STARTED

from assistant.devices.sound import Clip, as_flac
from assistant.journal import clips
from assistant.journal.clips import ClipStore, folder_of
from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import Heard, NoteTaken
from assistant.report import log_tables
from assistant.report.page import SoundPart, TablePart
from assistant.report.page_html import html
from assistant.report.page_pdf import pdf
from assistant.report.story import read_story
from assistant.report.terms import Terms
from assistant.report.watch_log import LogOptions, watch_log

SOUND = as_flac(Clip((0.2 * np.sin(np.arange(32_000) / 4)).astype(np.float32), 16_000))


def noted(folder: Path, count: int = 1) -> Path:
    path = folder / "day.jsonl"
    header = Header(
        "Test engine", STARTED, 1, 101_325.0, (KeptText("engine", "test.yaml", ENGINE),), "live"
    )
    with Journal.create(path, header) as journal:
        shelf = ClipStore(path)
        for at in range(count):
            name = shelf.keep(SOUND)
            journal.event(Heard(60.0 * at, "ear", (), text="it <weeps>", clip=name))
            journal.effect(60.0 * at, NoteTaken("it <weeps>", name))
        journal.effect(60.0 * count, NoteTaken("typed", None))
        journal.sync()
    return path


def page(path: Path) -> str:
    return html(watch_log(read_story(path), LogOptions(Terms())))


def test_the_sound_is_inside_the_page(tmp_path: Path) -> None:
    text = page(noted(tmp_path))
    (inside,) = re.findall(r'<audio controls[^>]* src="data:audio/flac;base64,([^"]+)"', text)
    assert base64.b64decode(inside) == SOUND
    assert "it &lt;weeps&gt;" in text
    assert "none kept" in text
    assert "<script" not in text


def test_a_changed_sound_is_not_played_and_is_told_at_the_top(tmp_path: Path) -> None:
    path = noted(tmp_path)
    (folder_of(path) / "note-001.flac").write_bytes(SOUND[:-1] + b"x")
    text = page(path)
    assert "<audio" not in text
    assert "NOT AS IT WAS KEPT: record 2: its sound note-001.flac was changed." in text
    assert "note-001.flac WAS CHANGED since it was kept" in text


def test_a_sound_that_is_gone_is_said(tmp_path: Path) -> None:
    path = noted(tmp_path)
    (folder_of(path) / "note-001.flac").unlink()
    assert "note-001.flac is not beside the journal" in page(path)


def test_the_page_stays_bounded(tmp_path: Path) -> None:
    story = read_story(noted(tmp_path, 4))
    told = log_tables.notes(story, clips.check_clips(story.journal), 2 * len(SOUND) + 1)
    assert isinstance(told, TablePart)
    cells = [row.cells[2] for row in told.rows]
    assert [isinstance(cell, SoundPart) for cell in cells] == [True, True, False, False, False]
    assert cells[2] == "note-003.flac, beside the journal: too much for one page"


def test_on_paper_the_sound_is_named(tmp_path: Path) -> None:
    paper = pdf(watch_log(read_story(noted(tmp_path)), LogOptions(Terms())))
    assert paper.startswith(b"%PDF")
