"""Problems of files taken together: checklists with one another, with an engine, with the alarms.

Each file by itself is checked by its reader.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.alarms.called_rules import CALLED
from assistant.alarms.rules import RULES
from assistant.boiler.figures import Engine
from assistant.config import sources_differ
from assistant.config.emergencies_file import shipped_emergencies
from assistant.config.engine_file import EngineFile
from assistant.config.suggest import did_you_mean
from assistant.errors import Problem
from assistant.grammar.conflicts import clash
from assistant.grammar.phonetics import alike
from assistant.messages import Grade
from assistant.procedure.checklist import Checklist
from assistant.procedure.emergency import Emergencies
from assistant.procedure.validation import chain_objections, engine_objections, objections
from assistant.procedure.warm_validation import warm_cautions, warm_objections

WITH_ACTS = frozenset({"level", "spoken"})  # kinds of danger whose acts a file gives
LEFT_OPEN = "if your engine's instructions say so"  # the general file's words on feed at the mark
# Called dangers that a file need not have: their alarm says the first act, and files and journals
# written before they could be called still stand.
NEED_NOT_HAVE = frozenset(rule.name for rule in CALLED)


def list_problems(checklist: Checklist) -> tuple[Problem, ...]:
    """The problems of one list, checked against the grammar and the sound of its answers too."""
    return objections(checklist, clash, alike)


def problems_together(
    lists: Iterable[Checklist],
    engines: Iterable[Engine] = (),
    emergencies: Emergencies | None = None,
) -> tuple[Problem, ...]:
    """The problems that no file has by itself, each once."""
    checklists = tuple(lists)
    problems = [*chain_objections(checklists), *warm_objections(checklists)]
    for engine in engines:
        for checklist in checklists:
            problems += [
                Problem(p.file, p.line, p.column, f"{p.message} ({engine.name})")
                for p in engine_objections(checklist, engine)
            ]
    if emergencies is not None:
        problems += _emergency_problems(emergencies)
    return tuple(dict.fromkeys(problems))


def cautions_together(
    lists: Iterable[Checklist],
    emergencies: Emergencies | None = None,
    engines: Iterable[EngineFile] = (),
) -> tuple[Problem, ...]:
    """What is not wrong in the lists and emergencies, but is to be known before they are used.

    emergencies: the owner's, where there are any.
    """
    checklists = tuple(lists)
    found = [*warm_cautions(checklists)]
    if emergencies is not None and not emergencies.general:
        found += _feed_left_open(emergencies)
        found += sources_differ.entries_left_open(emergencies, shipped_emergencies())
    else:
        for engine in engines:
            found += sources_differ.without_owners_file(engine, checklists)
    return tuple(dict.fromkeys(found))


def _feed_left_open(emergencies: Emergencies) -> Iterator[Problem]:
    """An owner's file that does not say whether to feed with water in sight at the mark."""
    entry = emergencies.for_alarm("low water")
    if entry is None:
        return
    said = " ".join(entry.acts).lower()
    shared = "water out of sight" in entry.alarms
    if shared or LEFT_OPEN in said or "feed" not in said:
        text = (
            f"emergency {entry.name!r}: with water in sight at or below the lower mark, may this "
            "engine be fed? Sources differ: write in what its own instructions say"
            + (", apart from water out of sight" if shared else "")
        )
        yield Problem(emergencies.file, entry.line, 1, text)


def _emergency_problems(emergencies: Emergencies) -> Iterator[Problem]:
    """Emergencies are spoken when an alarm is raised: each names one, and each danger of a level or
    of a call has one. Other dangers say their act in their own words."""
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
        wanted = rule.grade is Grade.DANGER and rule.kind in WITH_ACTS
        wanted = wanted and rule.name not in NEED_NOT_HAVE
        if wanted and emergencies.for_alarm(rule.name) is None:
            text = f"nothing is said for the danger {rule.name!r}: no emergency has it in 'alarms'"
            yield Problem(emergencies.file, 0, 0, text)
