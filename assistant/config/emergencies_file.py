"""The emergencies' YAML file -> what is said at once, with everything that is wrong at once."""

from __future__ import annotations

from pathlib import Path

from assistant.config import paths
from assistant.config.checklist_step import want_sentence
from assistant.config.field_readers import (
    want_keys,
    want_tables,
    want_text,
    want_texts,
    want_yes_no,
)
from assistant.config.positioned_yaml import Problems, Table, parse, read_text
from assistant.config.suggest import in_quotes
from assistant.procedure.emergency import Emergencies, Emergency

MAX_ACTS = 3


def shipped_emergencies() -> Emergencies:
    """The general emergencies that ship with the project."""
    return load_emergencies(paths.checklists_folder() / "emergencies.yaml")


def load_emergencies(path: Path) -> Emergencies:
    """The emergencies of a file. Raises FileWrongError with all problems."""
    return emergencies_from_text(read_text(path), path)


def emergencies_from_text(text: str, path: Path) -> Emergencies:
    """The emergencies that a text describes."""
    found = Problems(str(path))
    table = parse(text, found)
    found.stop_if_any()
    assert table is not None  # parse added a problem otherwise
    want_keys(found, table, ("general", "ending", "emergencies"))
    tables = want_tables(found, table, "emergencies")
    entries = [_emergency(found, entry) for entry in tables]
    if "emergencies" in table.entries and not tables:
        found.add(table.entries["emergencies"][0], "'emergencies': there is none in it")
    _names_and_calls_differ(found, tables, entries)
    general = want_yes_no(found, table, "general")
    ending = want_sentence(found, table, "ending")
    found.stop_if_any()
    return Emergencies(
        entries=tuple(entries), ending=ending or "", general=general is not False, file=str(path)
    )


def _emergency(found: Problems, entry: Table) -> Emergency:
    want_keys(found, entry, ("name", "acts", "why", "source"), ("say", "alarms"), "this emergency")
    acts = want_texts(found, entry, "acts")
    if len(acts) > MAX_ACTS:
        found.add(entry.entries["acts"][1], f"'acts': {len(acts)}; at most {MAX_ACTS} from memory")
    if "acts" in entry.entries and not acts:
        found.add(entry.entries["acts"][1], "'acts': at least one is wanted")
    if "say" not in entry.entries and "alarms" not in entry.entries:
        found.add(entry, "neither 'say' nor 'alarms': nothing would ever call it")
    return Emergency(
        name=want_text(found, entry, "name", 60) or "",
        acts=acts,
        why=want_text(found, entry, "why", 1000) or "",
        source=want_text(found, entry, "source") or "",
        spoken=want_texts(found, entry, "say"),
        alarms=want_texts(found, entry, "alarms"),
        line=entry.line,
    )


def _names_and_calls_differ(
    found: Problems, tables: tuple[Table, ...], entries: list[Emergency]
) -> None:
    owners: dict[tuple[str, str], int] = {}
    for table, entry in zip(tables, entries, strict=True):
        claims = [("name", entry.name)] + [("say", form) for form in entry.spoken]
        claims += [("alarms", alarm) for alarm in entry.alarms]
        for key, text in claims:
            if (key, text) in owners and text:
                line = owners[key, text]
                found.add(
                    table.entries[key][1], f"'{key}': {in_quotes(text)} is also in line {line}"
                )
            owners.setdefault((key, text), entry.line)
