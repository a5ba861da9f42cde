"""The emergencies' YAML file -> the acts spoken at once, with all problems of the file together."""

from __future__ import annotations

import re
from pathlib import Path

from assistant.config import paths
from assistant.config.field_readers import (
    want_keys,
    want_sentence,
    want_table,
    want_tables,
    want_text,
    want_texts,
    want_yes_no,
)
from assistant.config.positioned_yaml import Problems, Table, parse, read_text
from assistant.config.suggest import in_quotes
from assistant.grammar.numbers import DIGITS
from assistant.procedure.emergency import Emergencies, Emergency

MAX_ACTS = 3  # as many as can be kept in mind at one hearing


def shipped_emergencies() -> Emergencies:
    """The general emergencies that ship with the project."""
    return load_emergencies(paths.checklists_folder() / "emergencies.yaml")


def load_emergencies(path: Path) -> Emergencies:
    """The emergencies of a file. Raises FileWrongError with all problems."""
    return emergencies_from_text(read_text(path), path)


def emergencies_from_text(text: str, path: Path) -> Emergencies:
    """The emergencies that a text describes."""
    problems = Problems(str(path))
    table = parse(text, problems)
    problems.stop_if_any()
    assert table is not None  # parse added a problem otherwise
    return emergencies_of(problems, table, path)


def emergencies_of(problems: Problems, table: Table, path: Path) -> Emergencies:
    """The emergencies of a table. Raises FileWrongError with all problems."""
    want_keys(problems, table, ("general", "ending", "emergencies"), ("call",))
    tables = want_tables(problems, table, "emergencies")
    entries = [_emergency(problems, entry) for entry in tables]
    if "emergencies" in table.entries and not tables:
        problems.add(table.entries["emergencies"][0], "'emergencies': there is none in it")
    _names_and_calls_differ(problems, tables, entries)
    general, second = want_yes_no(problems, table, "general"), _second_person(problems, table)
    ending = want_sentence(problems, table, "ending")
    problems.stop_if_any()
    return Emergencies(
        entries=tuple(entries),
        ending=ending or "",
        second_person=second,
        general=general is not False,
        file=str(path),
    )


def _second_person(problems: Problems, table: Table) -> str:
    """The sentence that says whom to call, by the file's `call: {name, number}`; "" without."""
    call = want_table(problems, table, "call")
    if call is None:
        return ""
    want_keys(problems, call, ("name", "number"), (), "this call")
    name, number = want_text(problems, call, "name", 40), want_text(problems, call, "number", 24)
    figures = "".join(figure for figure in number or "" if figure not in " +-/()")
    if number is not None and not (figures.isdecimal() and figures.isascii()):
        problems.add(call.entries["number"][1], "'number': figures, with blanks between them")
    if not name or not figures.isdecimal():
        return ""
    groups = re.split(r"[ \-/()]+", (number or "").strip("+ "))
    spoken = (" ".join(DIGITS[int(figure)] for figure in group) for group in groups if group)
    plus = "plus " if (number or "").startswith("+") else ""
    return f"Call {name}: {plus}{', '.join(spoken)}."


def _emergency(problems: Problems, entry: Table) -> Emergency:
    want_keys(
        problems, entry, ("name", "acts", "why", "source"), ("say", "alarms"), "this emergency"
    )
    acts = want_texts(problems, entry, "acts")
    if len(acts) > MAX_ACTS:
        problems.add(
            entry.entries["acts"][1], f"'acts': {len(acts)}; at most {MAX_ACTS} from memory"
        )
    if "acts" in entry.entries and not acts:
        problems.add(entry.entries["acts"][1], "'acts': at least one is wanted")
    if "say" not in entry.entries and "alarms" not in entry.entries:
        problems.add(entry, "neither 'say' nor 'alarms': nothing would ever call it")
    return Emergency(
        name=want_text(problems, entry, "name", 60) or "",
        acts=acts,
        why=want_text(problems, entry, "why", 1000) or "",
        source=want_text(problems, entry, "source") or "",
        spoken=want_texts(problems, entry, "say"),
        alarms=want_texts(problems, entry, "alarms"),
        line=entry.line,
    )


def _names_and_calls_differ(
    problems: Problems, tables: tuple[Table, ...], entries: list[Emergency]
) -> None:
    line_of: dict[tuple[str, str], int] = {}
    for table, entry in zip(tables, entries, strict=True):
        claims = [("name", entry.name)] + [("say", form) for form in entry.spoken]
        claims += [("alarms", alarm) for alarm in entry.alarms]
        for key, text in claims:
            if (key, text) in line_of and text:
                line = line_of[key, text]
                problems.add(
                    table.entries[key][1], f"'{key}': {in_quotes(text)} is also in line {line}"
                )
            line_of.setdefault((key, text), entry.line)
