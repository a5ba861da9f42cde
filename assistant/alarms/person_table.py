"""The rows of the alarm table for the person: nobody answers, or he would not be heard."""

from __future__ import annotations

from assistant.alarms import other_rules as other
from assistant.alarms import person_rules as person
from assistant.alarms.condition import no_longer
from assistant.alarms.rule import Rule
from assistant.messages import Grade

D, W = Grade.DANGER, Grade.WARNING

PERSON: tuple[Rule, ...] = (
    Rule(
        name="nobody answers", kind="overdue", grade=D, group="nobody answers",
        when="with steam up, nothing was understood for two intervals of the water, though it "
        "would have been",
        action="whoever hears it looks at the glass and calls it",
        consequence="a boiler in steam is watched by nobody", causes="gone, ill, busy, hurt",
        respond_within_s=60, detected_by="the clock",
        suppression="never",
        subject="nobody", state="answers", act="somebody look at the glass",
        condition=person.nobody_answers, normal=person.answers,
        deadline=person.answer_awaited_until, announces_end=False,
    ),
    Rule(
        name="nobody watches her", kind="disagreement", grade=D, group="watch",
        when="it is called that nobody watches her, with a fire in or steam up",
        action="somebody stays with her until the fire is out and the gauge at rest",
        consequence="water and pressure move, and nobody is there",
        causes="lunch, visitors, work elsewhere", respond_within_s=60, detected_by="a call",
        suppression="never",
        subject="nobody", state="watches her", act="somebody stay with her",
        condition=person.nobody_watches, normal=no_longer(person.nobody_watches),
        announces_end=False,
    ),
    Rule(
        name="too loud to hear", kind="device", grade=W, group="noise",
        when="the noise is too loud to trust speech",
        action="watch gauges and glass; press or type until it is quieter",
        consequence="readings and calls are not heard", causes="valve lifting, blower, wind",
        respond_within_s=120, detected_by="the level of the noise beside the voice",
        suppression="typed sessions",
        subject="I cannot", state="hear you", act="watch gauges and glass",
        more="Press or type.",
        condition=other.device_lost("hearing"), normal=other.is_device_back("hearing"),
        announces_end=False,
    ),
)  # fmt: skip
