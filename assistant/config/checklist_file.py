"""A checklist's YAML file -> its steps, with all problems of the file at once.

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
from assistant.procedure.conditions import with_conditions
from assistant.procedure.overlay import overlay

_REQUIRED = ("name", "title", "steps")
_OPTIONAL = ("phase", "extends", "leave_out", "opening", "closing", "symptom")


def load_checklist(path: Path) -> Checklist:
    """The checklist of a file, laid over the shipped list that it extends, if any."""
    return checklist_from_text(read_text(path), path)


def checklist_from_text(
    text: str,
    path: Path,
    bases: Mapping[str, str] | None = None,
    chain: tuple[str, ...] = (),
) -> Checklist:
    """The checklist that a text describes.

    bases: the texts of the lists it may extend, by name (a journal keeps them); by default those
    that ship. chain: the lists that led here by 'extends', so that a circle is reported.
    """
    problems = Problems(str(path))
    table = parse(text, problems)
    checklist = None if table is None else checklist_of(problems, table, str(path))
    problems.stop_if_any()
    assert checklist is not None and table is not None
    if checklist.base:
        checklist = _over_base(problems, table, checklist, bases, chain)
    return with_conditions(checklist)


def shipped_checklists() -> tuple[Checklist, ...]:
    """Every checklist that ships with the project: the phases in their order, then the remedies.

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


def checklist_of(problems: Problems, table: Table, file: str) -> Checklist:
    """The checklist of a table, with what could be read; the problems are added."""
    want_keys(problems, table, _REQUIRED, _OPTIONAL)
    phase = want_word(problems, table, "phase", [p.value for p in Phase])
    symptom = want_texts(problems, table, "symptom")
    base = _text_or_empty(problems, table, "extends")
    _check_keys_together(problems, table, symptom, base)
    steps = _steps(problems, table, file, base)
    return Checklist(
        name=_text_or_empty(problems, table, "name", 60),
        title=_text_or_empty(problems, table, "title", 80),
        phase=Phase(phase) if phase else None,
        steps=steps,
        opening=_text_or_empty(problems, table, "opening"),
        closing=_text_or_empty(problems, table, "closing"),
        symptom=symptom,
        base=base,
        leave_out=want_texts(problems, table, "leave_out"),
        file=file,
    )


def _text_or_empty(problems: Problems, table: Table, key: str, longest: int = 500) -> str:
    return want_text(problems, table, key, longest) or ""


def _check_keys_together(
    problems: Problems, table: Table, symptom: tuple[str, ...], base: str
) -> None:
    """A list belongs to a phase or to a symptom, or extends another list."""
    if "phase" not in table.entries and not symptom and not base:
        problems.add(table, "neither 'phase' nor 'symptom': when is this list to be used?")
    if "phase" in table.entries and symptom:
        problems.add(
            table.entries["symptom"][0], "'symptom' belongs to a cure, which has no 'phase'"
        )
    if "leave_out" in table.entries and not base:
        problems.add(table.entries["leave_out"][0], "'leave_out' needs 'extends'")


def _steps(problems: Problems, table: Table, file: str, base: str) -> tuple[Step, ...]:
    """The steps that could be read. With a base, references are checked once both are joined."""
    entries = want_tables(problems, table, "steps")
    if "steps" in table.entries and not entries and not base:
        problems.add(table.entries["steps"][0], "'steps': there is no step")
    steps = [step_of(problems, entry, file, extending=bool(base)) for entry in entries]
    _check_ids_differ(problems, entries, steps)
    if not base:
        _check_references(problems, entries, steps, [step.id for step in steps if step])
    return tuple(step for step in steps if step is not None)


def _check_ids_differ(
    problems: Problems, entries: tuple[Table, ...], steps: list[Step | None]
) -> None:
    line_of: dict[str, int] = {}
    for entry, step in zip(entries, steps, strict=True):
        if step is None:
            continue
        if step.id in line_of:
            place = entry.entries["id"][1]
            problems.add(
                place, f"'id': {in_quotes(step.id)} is also the step in line {line_of[step.id]}"
            )
        line_of.setdefault(step.id, entry.line)


def _check_references(
    problems: Problems, entries: tuple[Table, ...], steps: list[Step | None], ids: list[str]
) -> None:
    """Every key that names a step names one of `ids`, `after` and `gain_on` only earlier ones."""
    for entry, step in zip(entries, steps, strict=True):
        if step is None:
            continue
        references = [("after", name) for name in step.after]
        references += [("put_after", step.put_after)] if step.put_after else []
        references += [("gain_on", step.gain_on)] if step.gain_on else []
        references += [("warm", step.warm)] if step.warm and "/" not in step.warm else []
        for key, name in references:
            trouble = _reference_trouble(key, name, step.id, ids)
            if trouble:
                problems.add(place_of(entry, key, name), trouble)


def _reference_trouble(key: str, name: str, step_id: str, ids: list[str]) -> str:
    if name == step_id:
        return f"'{key}': the step names itself"
    if name not in ids:
        return f"'{key}': no step {in_quotes(name)}{did_you_mean(name, ids)}"
    if key in ("after", "gain_on") and step_id in ids and ids.index(name) > ids.index(step_id):
        return f"'{key}': {in_quotes(name)} comes later in the list"
    return ""


def _over_base(
    problems: Problems,
    table: Table,
    checklist: Checklist,
    bases: Mapping[str, str] | None,
    chain: tuple[str, ...],
) -> Checklist:
    """The list laid over the one it extends. Raises FileWrongError with all problems."""
    base = _base_of(problems, table, checklist.base, bases, chain)
    if checklist.phase is not None and checklist.phase is not base.phase:
        problems.add(
            table.entries["phase"][1],
            f"'phase': {in_quotes(checklist.base)} is another phase's list",
        )
    _check_left_out(problems, table, checklist, base)
    new = [step.id for step in checklist.steps if step.id not in base.ids]
    ids = [step.id for step in base.steps] + new
    _check_references(problems, want_tables(problems, table, "steps"), list(checklist.steps), ids)
    problems.stop_if_any()
    return overlay(base, checklist)


def _base_of(
    problems: Problems,
    table: Table,
    name: str,
    bases: Mapping[str, str] | None,
    chain: tuple[str, ...],
) -> Checklist:
    place = table.entries["extends"][1]
    names = [path.stem for path in checklist_paths()] if bases is None else list(bases)
    if name not in names:
        problems.add(place, f"'extends': no list {in_quotes(name)}{did_you_mean(name, names)}")
    elif name in chain:
        problems.add(place, f"'extends': {in_quotes(name)} leads back to itself")
    problems.stop_if_any()
    path = paths.checklists_folder() / f"{name}.yaml"
    text = read_text(path) if bases is None else bases[name]
    return checklist_from_text(text, path, bases, (*chain, name))


def _check_left_out(
    problems: Problems, table: Table, checklist: Checklist, base: Checklist
) -> None:
    for name in checklist.leave_out:
        place = place_of(table, "leave_out", name)
        if name not in base.ids:
            problems.add(
                place, f"'leave_out': no step {in_quotes(name)}{did_you_mean(name, base.ids)}"
            )
        elif base.step(name).must:
            problems.add(place, f"'leave_out': {in_quotes(name)} is a hold and stays")
