"""The table of alarms, whole: its rows stand in the `..._table` modules, their conditions apart.

Times to respond, and other figures without a source, are judgement.
"""

from __future__ import annotations

from assistant.alarms.called_rules import ALWAYS_CALLED, CALLED
from assistant.alarms.feed_table import FEED
from assistant.alarms.gauge_valve_table import GAUGE_AND_FALL
from assistant.alarms.lost_water_table import LOST_WATER
from assistant.alarms.motion_table import MOTION
from assistant.alarms.other_table import OTHER
from assistant.alarms.person_table import PERSON
from assistant.alarms.pressure_table import PRESSURE
from assistant.alarms.rule import Rule
from assistant.alarms.water_table import WATER

RULES: tuple[Rule, ...] = tuple(
    sorted(
        (
            *(*LOST_WATER, *FEED, *WATER, *PRESSURE, *GAUGE_AND_FALL, *MOTION),
            *(*PERSON, *ALWAYS_CALLED, *OTHER, *CALLED),
        ),
        key=lambda rule: -rule.grade,
    )
)

BY_NAME: dict[str, Rule] = {rule.name: rule for rule in RULES}
