"""What is asked about an engine, and what counts as an answer. Knows no file's layout.

An answer is what a person at the engine says or types: a number without a unit takes the usual one
of its question, a height of the glass may be said in parts or measured, nothing means "not known".
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from assistant.boiler.figures import KINDS
from assistant.boiler.scales import PRESSURE_PA
from assistant.config import units
from assistant.config.suggest import did_you_mean, in_quotes
from assistant.grammar.phrases import grammar
from assistant.messages import Expected, Report

Answers = Mapping[str, str]
"""What was answered, by the key of the question; "" for what is not known."""

METALS = ("steel", "copper")
DIALS = tuple(PRESSURE_PA)
_YES = {"yes": "yes", "y": "yes", "no": "no", "n": "no", "none": "no"}
LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class Question:
    """One question; the answer is kept in the words in which a file would give it."""

    key: str
    words: str
    """As it is asked."""
    read: Callable[[str, Answers], str]
    """The answer as a file would give it; ValueError with the reason when it is none."""
    must: bool = False
    """Whether it may not be left out."""


def _name(text: str, _: Answers) -> str:
    if len(text) > LONGEST_NAME or not text.isprintable():
        raise ValueError(f"a name is at most {LONGEST_NAME} characters")
    return text


def _one_of(*words: str) -> Callable[[str, Answers], str]:
    def read(text: str, _: Answers) -> str:
        found = next((word for word in words if word.lower() == text.lower()), None)
        if found is None:
            near = did_you_mean(text, words)
            raise ValueError(f"{in_quotes(text)} is none of {', '.join(words)}{near}")
        return found

    return read


def _yes_no(text: str, _: Answers) -> str:
    found = _YES.get(text.lower().rstrip("."))
    if found is None:
        raise ValueError(f"{in_quotes(text)}: yes or no")
    return found


def _quantity(dimension: str, usual: str) -> Callable[[str, Answers], str]:
    """usual: the unit of a bare number."""

    def read(text: str, answers: Answers) -> str:
        unit = answers.get("dial", usual) if dimension == "pressure" else usual
        whole = f"{text} {unit}" if _is_number(text) else text
        found = units.quantity(whole, dimension)
        if found.si <= 0.0:
            raise ValueError(f"{in_quotes(text)}: more than nothing is wanted")
        return whole

    return read


def _from_pressure(text: str, answers: Answers) -> str:
    """yes, no, or from which pressure."""
    if text.lower() in _YES:
        return _YES[text.lower()]
    return _quantity("pressure", "psi")(text.removeprefix("from "), answers)


def _flow(text: str, answers: Answers) -> str:
    """yes, no, or how much a pump delivers."""
    if text.lower() in _YES:
        return _YES[text.lower()]
    return _quantity("flow", "litre/min")(text, answers)


def _height(text: str, answers: Answers) -> str:
    """A height of the visible glass as a fraction: "a quarter", "1/4", "25 %", "40 mm"."""
    height = _as_fraction(text)
    if height is None:
        visible = answers.get("visible", "")
        try:
            measured = units.quantity(text, "length").si
        except ValueError:
            raise ValueError(f"{in_quotes(text)} is no height of the glass, like 1/4") from None
        if not visible:
            raise ValueError(f"{in_quotes(text)}: the length of the glass is not known")
        height = measured / units.quantity(visible, "length").si
    if not 0.0 <= height <= 1.0:
        raise ValueError(f"{in_quotes(text)}: the glass goes from 0 to 1")
    return f"{height:.3g}"


def _as_fraction(text: str) -> float | None:
    """The fraction that a text states in figures or in words, None when it states none."""
    if text.endswith("%"):
        share = text[:-1].strip()
        return float(share) / 100.0 if _is_number(share) else None
    try:
        return float(Fraction(text))
    except (ValueError, ZeroDivisionError):
        meaning = grammar(Expected("water")).parse(text)
    if isinstance(meaning, Report) and meaning.unit == "glass":
        return float(meaning.value)
    return None


def _barrel(text: str, answers: Answers) -> str:
    """Diameter by length: "420 mm x 900 mm"."""
    diameter, by, length = text.lower().replace(" by ", " x ").partition("x")
    if not by:
        raise ValueError(f'{in_quotes(text)}: diameter by length, like "420 mm x 900 mm"')
    read = _quantity("length", "mm")
    return f"{read(diameter.strip(), answers)} x {read(length.strip(), answers)}"


def _usually(text: str, answers: Answers) -> str:
    span, to, pressure = text.partition(" to ")
    if not to:
        raise ValueError(f'{in_quotes(text)}: a time and a pressure, like "45 min to 100 psi"')
    time = _quantity("time", "min")(span.strip(), answers)
    return f"{time} to {_quantity('pressure', 'psi')(pressure.strip(), answers)}"


def _litres_at(text: str, answers: Answers) -> str:
    """Litres at the bottom and at the top of the glass: "68 litre, 96 litre"."""
    low, comma, high = text.partition(",")
    if not comma:
        raise ValueError(f'{in_quotes(text)}: two amounts, like "68 litre, 96 litre"')
    read = _quantity("volume", "litre")
    return f"{read(low.strip(), answers)}, {read(high.strip(), answers)}"


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return text.replace(".", "", 1).isdigit()


_PRESSURE = _quantity("pressure", "psi")

# In the order of a walk round her. What may be left out is marked so by `must`.
QUESTIONS: tuple[Question, ...] = (
    Question("name", "What is she called?", _name, must=True),
    Question("kind", f"What is she: {', '.join(KINDS)}?", _one_of(*KINDS), must=True),
    Question("metal", "Her boiler: steel or copper?", _one_of(*METALS), must=True),
    Question(
        "dial", f"What is her pressure gauge marked in: {', '.join(DIALS)}?", _one_of(*DIALS),
        must=True,
    ),
    Question("plate", "Allowed pressure, on her plate or certificate?", _PRESSURE),
    Question("wanted", "Highest pressure that is wanted in use?", _PRESSURE, must=True),
    Question("lifts", "At what pressure does the safety valve lift?", _PRESSURE, must=True),
    Question("feathers", "At what pressure does it feather? (never: leave out)", _PRESSURE),
    Question("gauge_top", "Where does the dial of the gauge end?", _PRESSURE),
    Question(
        "visible", "How long is the glass that you can see, in mm?", _quantity("length", "mm"),
        must=True,
    ),
    Question(
        "lower_mark", "Her lower mark, never steam below it? (a quarter, 1/4, 40 mm)", _height,
        must=True,
    ),
    Question("upper_mark", "Her upper mark?", _height, must=True),
    Question("cold_fill", "Where is she filled to, cold?", _height),
    Question("volume", "How many litres does she hold, brim full?", _quantity("volume", "litre")),
    Question(
        "litres", "Litres of cold water at the bottom and at the top of the glass?", _litres_at
    ),
    Question(
        "barrel", "Her barrel, diameter by length, about? (420 mm x 900 mm)", _barrel
    ),
    Question("mass", "What does the empty boiler weigh, in kg?", _quantity("mass", "kg")),
    Question("usually", "How long does she take from cold? (45 min to 100 psi)", _usually),
    Question("wood_until", "Up to which pressure is wood burnt?", _PRESSURE),
    Question("blower", "Has she a blower?", _yes_no),
    Question("extension", "A chimney extension for lighting up?", _yes_no),
    Question("drains", "Drain cocks on the cylinder?", _yes_no),
    Question("hand_pump", "A hand pump?", _yes_no),
    Question(
        "engine_pump", "A pump driven by the engine? (yes, no, or what it delivers: 1.6 litre/min)",
        _flow,
    ),
    Question("injector", "An injector? (yes, no, or from which pressure)", _from_pressure),
    Question("tank", "How much does her feed tank hold, in litres?", _quantity("volume", "litre")),
    Question("bucket", "A bucket of her coal weighs, in kg?", _quantity("mass", "kg")),
    Question("shovel", "A shovel of it, in kg?", _quantity("mass", "kg")),
    Question(
        "water_bucket", "A bucket of water holds, in litres?", _quantity("volume", "litre")
    ),
    Question("lubricator", "A mechanical lubricator?", _yes_no),
    Question("try_cocks", "Try cocks?", _yes_no),
    Question("protector", "A protector round the glass?", _yes_no),
    Question("lever_valve", "A safety valve with a lever to try it by?", _yes_no),
    Question("owner", "Whose is she? (for the report)", _name),
    Question("number", "The boiler's number? (for the report)", _name),
)  # fmt: skip
BY_KEY: Mapping[str, Question] = {question.key: question for question in QUESTIONS}


def read_answer(question: Question, text: str, answers: Answers) -> str:
    """An answer as a file would give it; "" for one that is not known.

    Raises ValueError with the reason when it is no answer, or must be known.

    >>> read_answer(BY_KEY["lower_mark"], "a quarter", {})
    '0.25'
    """
    text = " ".join(text.split())
    if text.lower() in ("", "not known", "unknown", "?"):
        if question.must:
            raise ValueError("this must be known: look at her, or ask who has steamed her before")
        return ""
    return question.read(text, answers)
