"""The schemas accept every file that the readers accept, and refuse what an editor can see."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from assistant.cli import main
from assistant.config import paths
from assistant.config.checklist_file import checklist_from_text, checklist_paths
from assistant.config.emergencies_file import emergencies_from_text
from assistant.config.engine_file import engine_from_text
from assistant.config.json_schema import KINDS, schema_of
from assistant.errors import FileWrongError

SCHEMAS = {kind: schema_of(kind) for kind in KINDS}
CHECKERS = {kind: jsonschema.Draft7Validator(schema) for kind, schema in SCHEMAS.items()}
READERS = {
    "engine": engine_from_text,
    "checklist": checklist_from_text,
    "emergencies": emergencies_from_text,
}
PRACTICE = paths.engines_folder() / "practice.yaml"
FIRING = paths.checklists_folder() / "firing.yaml"
EMERGENCIES = paths.checklists_folder() / "emergencies.yaml"
SHIPPED = [("engine", path) for path in sorted(paths.engines_folder().glob("*.yaml"))]
SHIPPED += [("checklist", path) for path in checklist_paths()]
SHIPPED += [("emergencies", EMERGENCIES)]
ANSWERS = sorted((Path(__file__).parents[1] / "data" / "engines").glob("*.yaml"))
LOADERS = (yaml.SafeLoader, yaml.BaseLoader)  # numbers and booleans, or only texts


def as_json(value: Any) -> Any:
    """What an editor makes of loaded YAML: keys and dates are texts."""
    if isinstance(value, dict):
        return {str(key): as_json(one) for key, one in value.items()}
    if isinstance(value, list):
        return [as_json(one) for one in value]
    return value.isoformat() if isinstance(value, datetime.date) else value


def faults(kind: str, text: str, loader: Any) -> list[str]:
    """Where the schema finds faults: the path of each, then why."""
    found = CHECKERS[kind].iter_errors(as_json(yaml.load(text, loader)))
    return [f"{fault.json_path}: {fault.message}" for fault in found]


@pytest.mark.parametrize("kind", KINDS)
def test_each_is_a_schema(kind: str) -> None:
    jsonschema.Draft7Validator.check_schema(SCHEMAS[kind])


@pytest.mark.parametrize("loader", LOADERS)
@pytest.mark.parametrize(("kind", "path"), SHIPPED, ids=lambda value: getattr(value, "stem", value))
def test_every_file_that_ships_is_accepted(kind: str, path: Path, loader: Any) -> None:
    assert faults(kind, path.read_text(encoding="utf-8"), loader) == []


@pytest.mark.parametrize("loader", LOADERS)
@pytest.mark.parametrize("answers", ANSWERS, ids=lambda path: path.stem)
def test_every_file_that_is_made_of_answers_is_accepted(
    answers: Path, loader: Any, tmp_path: Path
) -> None:
    mine = tmp_path / "mine.yaml"
    assert main(["engine", "--answers", str(answers), "--out", str(mine)]) == 0
    assert faults("engine", mine.read_text(encoding="utf-8"), loader) == []


def documented_engines() -> Iterator[str]:
    """The engine files written out in the document of their form."""
    text = (paths.engines_folder() / "README.md").read_text(encoding="utf-8")
    for block in re.findall(r"```yaml\n(.*?)```", text, re.DOTALL):
        if block.startswith("name:"):
            yield block


@pytest.mark.parametrize("loader", LOADERS)
def test_what_only_some_files_hold_is_accepted(loader: Any) -> None:
    more = """
due:
  boiler certificate: 2027-05-01
  hydraulic test: {last: 2026-05-01, every: 14 months}
  washout: {every_in_steam: 50 hours}
people: Ann
number: 1234
invented: Yes
altitude: 300 m
nose_up: 2 degree
guessed: [volume, metal]
"""
    text = PRACTICE.read_text(encoding="utf-8").replace("invented: yes\n", "") + more
    engine_from_text(text, PRACTICE)
    for accepted in (text, *documented_engines()):
        assert faults("engine", accepted, loader) == []


def test_the_document_of_the_form_has_an_engine_in_it() -> None:
    assert list(documented_engines())


BROKEN = [
    ("engine", "working_pressure: 120 psi", "working_presure: 120 psi", "$: .*working_presure"),
    ("engine", "working_pressure: 120 psi", "working_pressure: 120", "$.working_pressure: "),
    ("engine", "lifts: 145 psi, ", "", "$.safety_valve: 'lifts' is a required"),
    ("engine", "upper_mark: 0.85", "upper_mark: 85", "$.glass.upper_mark: "),
    ("engine", "invented: yes", "invented: perhaps", "$.invented: "),
    ("engine", "{steel: 420 kg}", "{steal: 420 kg}", "$.boiler.metal: .*steal"),
    ("engine", "{volume: 45 litre}", "45 litre", "$.tank: "),
    ("engine", "{top: 200 psi}", "{top: 200 psi, unit: pis}", "$.gauge.unit: "),
    ("engine", "[hand pump,", "[{hand: pump},", "$.options: "),
    ("engine", "68 litre, 1.0", "none, 1.0", "$.glass.water.0.0: |$.glass.water['0.0']: "),
    ("checklist", "phase: firing", "phase: lighting", "$.phase: "),
    ("checklist", "kind: value", "kind: number", "$.steps[0].kind: "),
    ("checklist", "name: firing", "nom: firing", "$: .*nom"),
    ("checklist", "title: Firing", "title: ''", "$.title: "),
    ("checklist", "opening: Firing.", "opening: [Firing.]", "$.opening: "),
    ("checklist", "passes: no", "passes: never", "$.steps[0].answers[0].passes: "),
    ("checklist", 'say: "', 'say: "a b c d e f g h i j ', "$.steps[0].say: "),
    ("emergencies", "general: yes", "general: 3", "$.general: "),
    ("emergencies", "  - name:", "  - title:", "$.emergencies[0]: "),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "right", "wrong", "told"), BROKEN)
def test_a_broken_file_is_refused_where_it_is_broken(
    kind: str, right: str, wrong: str, told: str
) -> None:
    path = {"engine": PRACTICE, "checklist": FIRING, "emergencies": EMERGENCIES}[kind]
    text = path.read_text(encoding="utf-8")
    assert right in text
    text = text.replace(right, wrong, 1)
    with pytest.raises(FileWrongError):
        READERS[kind](text, path)
    wanted = re.compile(re.sub(r"([$\[\]])", r"\\\1", told))
    for loader in LOADERS[:1] if "85" in wrong else LOADERS:  # a text's range is not looked at
        assert any(wanted.match(fault) for fault in faults(kind, text, loader)), loader


def forms_of_keys(schema: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for key, form in schema.get("properties", {}).items():
        yield key, form
        yield from forms_of_keys(form)
    for inner in [
        schema.get("items"),
        schema.get("additionalProperties"),
        *schema.get("anyOf", ()),
    ]:
        if isinstance(inner, dict):
            yield from forms_of_keys(inner)


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_has_a_form(kind: str) -> None:
    """A key that may be there, but that no reader asks for, has none."""
    forms = list(forms_of_keys(SCHEMAS[kind]))
    assert len(forms) > 10
    assert [key for key, form in forms if not form] == []
