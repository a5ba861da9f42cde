"""What is wrong with files taken together: lists with one another, with an engine, with the watch.

Each file by itself is `check`'s.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.alarms.rules import RULES
from assistant.boiler.figures import Engine
from assistant.config.suggest import did_you_mean
from assistant.errors import Problem
from assistant.grammar.conflicts import clash
from assistant.grammar.phonetics import alike
from assistant.messages import Grade
from assistant.procedure.checklist import Checklist
from assistant.procedure.emergency import Emergencies
from assistant.procedure.validation import chain_objections, engine_objections, objections


def list_problems(checklist: Checklist) -> tuple[Problem, ...]:
    """Everything that can be proved against one list, the grammar and the ear asked too."""
    return objections(checklist, clash, alike)


def problems_together(
    lists: Iterable[Checklist],
    engines: Iterable[Engine] = (),
    emergencies: Emergencies | None = None,
) -> tuple[Problem, ...]:
    """Everything that is wrong only because of the others, each once."""
    kept = tuple(lists)
    found = list(chain_objections(kept))
    for engine in engines:
        for checklist in kept:
            found += [
                Problem(p.file, p.line, p.column, f"{p.message} ({engine.name})")
                for p in engine_objections(checklist, engine)
            ]
    if emergencies is not None:
        found += _emergency_problems(emergencies)
    return tuple(dict.fromkeys(found))


def _emergency_problems(emergencies: Emergencies) -> Iterator[Problem]:
    """Acts are said when an alarm is raised: each must have one, and each danger its acts."""
    known = [rule.name for rule in RULES]
    for entry in emergencies.entries:
        for name in entry.alarms:
            if name not in known:
                text = f"emergency {entry.name!r}: no alarm {name!r}{did_you_mean(name, known)}"
                yield Problem(emergencies.file, entry.line, 1, text)
        if entry.spoken and entry.name not in entry.alarms:
            text = f"emergency {entry.name!r} is called aloud, so its own name belongs in 'alarms'"
            yield Problem(emergencies.file, entry.line, 1, text)
    for rule in RULES:
        if rule.grade is Grade.DANGER and emergencies.for_alarm(rule.name) is None:
            text = f"nothing is said for the danger {rule.name!r}: no emergency has it in 'alarms'"
            yield Problem(emergencies.file, 0, 0, text)
