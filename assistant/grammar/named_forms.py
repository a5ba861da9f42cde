"""The forms that answer a step of any list and say what they are about: understood in every phase.

A form that does not say its subject ("still the same", "it is shut") counts only as the answer to
the question in hand. Knows words; knows no list and no engine.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.messages import READINGS, Report

# A form with one of these words says what it is about.
_NAMES = (
    "ash ashes bars barrier bearing bearings blow blower boiler brake bunker bypass by cap "
    "capped certificate chimney chocked chocks coal cylinder damper delivery drain drains "
    "drained drawing drawn end ends extension extinguisher feed feeds feeding fire firebox "
    "flues frost fuel gauge gear glass gloves goggles grate grates grease greased hand injector "
    "inspection lever lines log lubricator mud needle oil oiled oiler onlookers papers peg "
    "people pinion pinions pipe pipes plug pop protector pump regulator repairs reverse "
    "reverser safety scotched smoke smokebox somebody someone nobody everyone stack strainer "
    "suction tall throttle ticket try tube tubes valve watch watching wheels wood children public "
    "everybody"
)
NAMES = frozenset(_NAMES.split())
# With one of these first it answers a question, though it may name something.
BARE = frozenset({"it", "still", "not", "none", "nothing", "all", "just", "same", "i"})
NO_READING = frozenset({"no blow-down"})  # answers the question of a gauge, and reads none
SUBJECT_AFTER_ALL = frozenset({"still in gear"})


def says_its_subject(form: str) -> bool:
    """Whether the words alone say what is reported.

    >>> says_its_subject("injector picks up"), says_its_subject("still the same")
    (True, False)
    """
    words = form.split()
    if form in SUBJECT_AFTER_ALL:
        return True
    return len(words) > 1 and words[0] not in BARE and not NAMES.isdisjoint(words)


def named_forms(answers: Iterable[tuple[str, Report]]) -> tuple[tuple[str, Report], ...]:
    """Of all answers of all lists those that say their subject and mean one thing, each once."""
    meanings: dict[str, set[Report]] = {}
    for form, report in answers:
        meanings.setdefault(form, set()).add(report)
    return tuple(
        (form, report)
        for form, reports in meanings.items()
        if says_its_subject(form) and len(reports) == 1
        for report in reports
        if report.what not in READINGS or report.value in NO_READING
    )
