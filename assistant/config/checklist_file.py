"""A checklist's YAML file -> its steps, with everything that is wrong with it at once.

The text form is described in checklists/README.md; what the steps mean is not known here.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from assistant.config import paths
from assistant.config.checklist_step import step_of
from assistant.config.field_readers import (
    place_of,
    want_keys,
    want_tables,
    want_text,
    want_texts,
    want_word,
)
from assistant.config.positioned_yaml import Problems, Table, parse, read_text
from assistant.config.suggest import did_you_mean, in_quotes
from assistant.errors import FileWrongError
from assistant.procedure.checklist import Checklist, Phase, Step
from assistant.procedure.overlay import overlay

_REQUIRED = ("name", "title", "steps")
_OPTIONAL = ("phase", "extends", "leave_out", "opening", "closing", "symptom")


def find_checklist(name_or_path: str | Path) -> Checklist:
    """The checklist of a file, or of the stem of a shipped one; laid over its base if it has one.

    Raises FileWrongError with all problems, InputWrongError when there is none of that name.
    """
    return load_checklist(paths.find(name_or_path, paths.checklists_folder(), "checklist"))


def load_checklist(path: Path) -> Checklist:
    """The checklist of a file, laid over the shipped list that it extends, if any."""
    return checklist_from_text(read_text(path), path)


def checklist_from_text(
    text: str,
    path: Path,
    bases: Mapping[str, str] | None = None,
    over: tuple[str, ...] = (),
) -> Checklist:
    """The checklist that a text describes.

    bases: the texts of the lists it may extend, by name (a journal keeps them); the shipped ones
    otherwise. over: the bases that are being read already, so that a ring of them is told.
    """
    found = Problems(str(path))
    table = parse(text, found)
    own = None if table is None else _checklist(found, table, str(path))
    found.stop_if_any()
    assert own is not None and table is not None
    if not own.base:
        return own
    return _over_base(found, table, own, bases, over)


def shipped_checklists() -> tuple[Checklist, ...]:
    """Every checklist that ships with the project: the phases in their order, then the cures.

    Raises FileWrongError with the problems of all files together.
    """
    lists: list[Checklist] = []
    problems = []
    for path in checklist_paths():
        try:
            lists.append(load_checklist(path))
        except FileWrongError as wrong:
            problems += list(wrong.problems)
    if problems:
        raise FileWrongError(tuple(problems))
    order = {phase: place for place, phase in enumerate(Phase)}
    return tuple(sorted(lists, key=lambda c: (order.get(c.phase, 99) if c.phase else 99, c.name)))


def checklist_paths() -> tuple[Path, ...]:
    """The files of the shipped checklists; the emergencies have a form of their own."""
    folder = paths.checklists_folder()
    return tuple(p for p in sorted(folder.glob("*.yaml")) if p.stem != "emergencies")


def _checklist(found: Problems, table: Table, file: str) -> Checklist:
    want_keys(found, table, _REQUIRED, _OPTIONAL)
    phase = want_word(found, table, "phase", [p.value for p in Phase])
    symptom = want_texts(found, table, "symptom")
    base = want_text(found, table, "extends") or ""
    if "phase" not in table.entries and not symptom and not base:
        found.add(table, "neither 'phase' nor 'symptom': when is this list to be used?")
    if "phase" in table.entries and symptom:
        found.add(table.entries["symptom"][0], "'symptom' belongs to a cure, which has no 'phase'")
    if "leave_out" in table.entries and not base:
        found.add(table.entries["leave_out"][0], "'leave_out' needs 'extends'")
    entries = want_tables(found, table, "steps")
    if "steps" in table.entries and not entries and not base:
        found.add(table.entries["steps"][0], "'steps': there is no step")
    steps = [step_of(found, entry, file, extending=bool(base)) for entry in entries]
    _check_ids_differ(found, entries, steps)
    if not base:
        _check_references(found, entries, steps, [s.id for s in steps if s])
    return Checklist(
        name=want_text(found, table, "name", 60) or "",
        title=want_text(found, table, "title", 80) or "",
        phase=Phase(phase) if phase else None,
        steps=tuple(step for step in steps if step is not None),
        opening=want_text(found, table, "opening") or "",
        closing=want_text(found, table, "closing") or "",
        symptom=symptom,
        base=base,
        leave_out=want_texts(found, table, "leave_out"),
        file=file,
    )


def _check_ids_differ(
    found: Problems, entries: tuple[Table, ...], steps: list[Step | None]
) -> None:
    seen: dict[str, int] = {}
    for entry, step in zip(entries, steps, strict=True):
        if step is None:
            continue
        if step.id in seen:
            place = entry.entries["id"][1]
            found.add(place, f"'id': {in_quotes(step.id)} is also the step in line {seen[step.id]}")
        seen.setdefault(step.id, entry.line)


def _check_references(
    found: Problems, entries: tuple[Table, ...], steps: list[Step | None], ids: list[str]
) -> None:
    """Every step named in `after` or `put_after` is one of `ids`."""
    for entry, step in zip(entries, steps, strict=True):
        if step is None:
            continue
        named = [("after", name) for name in step.after]
        named += [("put_after", step.put_after)] if step.put_after else []
        for key, name in named:
            place = place_of(entry, key, name)
            if name == step.id:
                found.add(place, f"'{key}': the step names itself")
            elif name not in ids:
                found.add(place, f"'{key}': no step {in_quotes(name)}{did_you_mean(name, ids)}")
            elif key == "after" and step.id in ids and ids.index(name) > ids.index(step.id):
                found.add(place, f"'after': {in_quotes(name)} comes later in the list")


def _over_base(
    found: Problems,
    table: Table,
    own: Checklist,
    bases: Mapping[str, str] | None,
    over: tuple[str, ...],
) -> Checklist:
    place = table.entries["extends"][1]
    names = [p.stem for p in checklist_paths()] if bases is None else list(bases)
    if own.base not in names:
        found.add(place, f"'extends': no list {in_quotes(own.base)}{did_you_mean(own.base, names)}")
    elif own.base in over:
        found.add(place, f"'extends': {in_quotes(own.base)} leads back to itself")
    found.stop_if_any()
    path = paths.checklists_folder() / f"{own.base}.yaml"
    text = read_text(path) if bases is None else bases[own.base]
    base = checklist_from_text(text, path, bases, (*over, own.base))
    if own.phase is not None and own.phase is not base.phase:
        found.add(
            table.entries["phase"][1], f"'phase': {in_quotes(own.base)} is another phase's list"
        )
    for name in own.leave_out:
        where = place_of(table, "leave_out", name)
        if name not in base.ids:
            found.add(
                where, f"'leave_out': no step {in_quotes(name)}{did_you_mean(name, base.ids)}"
            )
        elif base.step(name).must:
            found.add(where, f"'leave_out': {in_quotes(name)} is a hold and stays")
    ids = [s.id for s in base.steps] + [s.id for s in own.steps if s.id not in base.ids]
    _check_references(found, want_tables(found, table, "steps"), list(own.steps), ids)
    found.stop_if_any()
    return overlay(base, own)
