"""FORMAT.md names every kind of record, every message and every field with its default, no more."""

from __future__ import annotations

import dataclasses
import doctest
import json
import re
from pathlib import Path
from typing import Any

import pytest

from assistant.journal import clips, hash_chain, header
from assistant.journal.codec import EFFECTS, EVENTS, known_types, to_record
from assistant.journal.reader import read
from assistant.messages import Tick

DOCUMENT = Path(header.__file__).with_name("FORMAT.md")
TEXT = DOCUMENT.read_text(encoding="utf-8")
JOURNALS = Path(__file__).parent.parent / "data" / "journals"


def section(title: str) -> str:
    """The text under a heading, up to the next one of any level."""
    match = re.search(rf"^#+ {re.escape(title)}\n(.*?)(?=^#|\Z)", TEXT, re.DOTALL | re.MULTILINE)
    assert match, title
    return match[1]


def rows(table: str) -> list[list[str]]:
    cells = [line.strip("|").split("|") for line in table.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in row] for row in cells[2:]]


def documented(title: str) -> dict[str, dict[str, str]]:
    """Message -> field -> the field's cell (its name and its default)."""
    messages: dict[str, dict[str, str]] = {}
    for name, field, *_ in rows(section(title)):
        if name:
            messages[name.strip("`")] = fields = {}
        if field:
            fields[field.split("`")[1]] = field
    return messages


def shown(value: Any) -> str:
    """A default as the document writes it."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    return "empty" if value == () else getattr(value, "name", f"{value:g}" if value else "0")


@pytest.mark.parametrize(
    ("title", "kinds"),
    [
        ("Events", EVENTS),
        ("Effects", EFFECTS),
        ("Values in messages", set(known_types().values()) - EVENTS - EFFECTS),
    ],
    ids=["events", "effects", "values"],
)
def test_every_message_and_every_field_is_named_with_its_default(
    title: str, kinds: set[type]
) -> None:
    messages = documented(title)
    assert set(messages) == {kind.__name__ for kind in kinds}
    for kind in kinds:
        expected = {
            field.name: f"`{field.name}`"
            if field.default is dataclasses.MISSING
            else f"`{field.name}` = {shown(field.default)}"
            for field in dataclasses.fields(kind)
            if field.metadata.get("written", True)
        }
        assert messages[kind.__name__] == expected


def test_every_kind_of_record_is_named() -> None:
    table = {
        kind for row in rows(section("A record"))[5:] for kind in re.findall(r"`(\w+)`", row[0])
    }
    assert table == {"journal", *header.ROLES, "event", "effect", "torn", "sealed"}
    written = {record.kind for path in JOURNALS.glob("*.jsonl") for record in read(path).records}
    assert written <= table


def test_the_keys_of_a_record_and_of_the_header_are_named() -> None:
    keys = [row[0].strip("`") for row in rows(section("A record"))[:5]]
    assert tuple(keys) == hash_chain.RESERVED_KEYS
    empty = header.Header("E", "2026-05-02", 1, 101_325.0, (header.KeptText("engine", "e", ""),))
    (_, first), (_, kept) = header.header_records(empty)
    assert [row[0].strip("`") for row in rows(section("`journal`"))] == list(first)
    title = "Kept texts: " + ", ".join(f"`{role}`" for role in ("engine", "calibration",
            "checklist", "emergencies", "past"))  # fmt: skip
    assert [row[0].strip("`") for row in rows(section(title))] == list(kept)
    assert clips.HASH_KEY in section("`event`")


def test_the_figures_are_those_of_the_code() -> None:
    limits = clips.ClipLimits()
    assert f"{hash_chain.MAX_LINE_BYTES:,} bytes" in section("The file")
    assert (
        f"At most {limits.longest_s:.0f} s of a note, {limits.most} clips and"
        f" {limits.most_bytes:,} bytes"
    ) in section("Clips")
    assert TEXT.startswith(f"# The journal file, format {header.FORMAT}\n")


def test_the_worked_example_is_right_and_is_what_the_program_writes() -> None:
    failed, attempted = doctest.testfile(str(DOCUMENT), module_relative=False)
    assert (failed, attempted > 5) == (0, True)
    event = {"event": to_record(Tick(1.0))}
    first = hash_chain.encode_line(0, 0.0, "event", event, hash_chain.FIRST_BEFORE)
    before = hash_chain.hash_of(first[:-1])
    digest = hash_chain.digest_of(before)
    second = hash_chain.encode_line(1, 1.0, "sealed", {"digest": digest}, before)
    example = section("The hash chain")
    for value in (json.loads(first)["sum"], before, json.loads(second)["sum"]):
        assert f"\n'{value}'\n" in example
    assert f'"digest":"{digest}"' in example
