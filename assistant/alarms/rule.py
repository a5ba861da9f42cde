"""One row of the alarm table: what raises and clears an alarm, what is said, and why it exists."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.alarms.condition import BackToNormal, Condition, Deadline, never, no_deadline
from assistant.messages import Grade


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One alarm: the ten fields of a rationalised alarm (ISA-18.2, IEC 62682 practice) first."""

    name: str
    """Unique."""
    kind: str
    """What sort of alarm: level, rate, overdue, disagreement, device, spoken."""
    grade: Grade
    """Its priority."""
    group: str
    """Alarms that follow from one another; only the first cause is spoken."""
    when: str
    """When it is raised, in words."""
    action: str
    """What the operator does."""
    consequence: str
    """What happens if nothing is done."""
    causes: str
    """The probable causes."""
    respond_within_s: float
    """The time to respond [s]."""
    detected_by: str
    """From what the condition is known."""
    suppression: str
    """When it keeps quiet."""

    subject: str
    """The spoken words after the grade: what it is about ..."""
    state: str
    """... in what state ..."""
    act: str
    """... and what to do; eight words in all."""
    condition: Condition
    """The reason to raise it, or None."""
    normal: BackToNormal
    """Whether the reading is back to normal, by the deadband."""
    deadline: Deadline = no_deadline
    """When time alone raises it if nothing is reported [s]."""
    gauge: str = ""
    """The gauge whose readings clear it; "" = it clears as soon as it is back to normal."""
    readings: int = 2
    """How many normal readings in a row clear it."""
    one_is_enough: BackToNormal = never
    """Whether one of them is enough: the gauge was proved since, or was never far from normal."""
    announces_end: bool = True
    """Its end is said. Not where the operator's own report ends it or pressure may stay high."""
    end_text: str = ""
    """The words for its end."""
    reported: bool = False
    """The operator reports the thing itself: the act is said first."""
    more: str = ""
    """A further sentence, said the first time only."""
    once_more: str = ""
    """What is said in its place after the first good reading, where one does not end it."""
    renewed: bool = False
    """Each further reading that meets the condition has it said again at once."""
    replaced: BackToNormal = never
    """Whether another alarm has taken its place: it ends at once, without a word."""

    @property
    def text(self) -> str:
        """What is said after the tone: what is wrong, then the act.

        The act first where the operator reports the thing himself: he knows what is wrong.
        """
        return self.with_act(self.act)

    def with_act(self, wanted: str, about: str = "") -> str:
        """The same with another act, where its own was reported done. about: or on another fact."""
        words, act = _sentence(about or f"{self.subject} {self.state}".strip()), _sentence(wanted)
        act_first = self.kind == "spoken" or self.reported
        said = (act, words) if act_first else (words, act)
        return " ".join((f"{self.grade.word.capitalize()}.", *said))

    @property
    def still_text(self) -> str:
        """Its act alone, where the last reading was good and an act goes against it."""
        return f"{self.grade.word.capitalize()} still. {_sentence(self.act)}"

    @property
    def once_more_text(self) -> str:
        """What is said after the first good reading, where one does not end it."""
        return f"{self.grade.word.capitalize()} still. {_sentence(self.once_more)}"


def _sentence(words: str) -> str:
    return words[0].upper() + words[1:] + ("" if words[-1] in ".?!" else ".")
