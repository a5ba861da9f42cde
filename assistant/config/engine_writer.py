"""Answers about an engine -> the text of her file, with what is guessed marked as a guess."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.boiler.scales import PRESSURE_PA
from assistant.config import engine_guess, units
from assistant.config.engine_questions import Answers

GUESS = "a guess: give the figure when you know it"
# Fittings that steps of the lists depend on, by the question that asks for them.
_OPTIONS = {
    "hand_pump": "hand pump", "engine_pump": "geared pump", "injector": "injector",
    "lubricator": "mechanical lubricator", "extension": "chimney extension",
    "try_cocks": "try cocks", "protector": "glass protector", "lever_valve": "lever valve",
}  # fmt: skip
COUNTED = ("bucket", "shovel", "water_bucket")
_WITHOUT = {"blower": "no blower", "drains": "no drain cocks"}


def engine_text(answers: Answers) -> str:
    """The commented file of an engine. answers: as `engine_questions.read_answer` gives them."""
    return "\n".join(_lines(answers)) + "\n"


def _lines(answers: Answers) -> Iterator[str]:
    yield "# Answered by her owner; read it through once, beside her plate and her glass."
    yield f"name: {_text(answers['name'])}"
    yield f"kind: {answers['kind']}"
    for key in ("owner", "number"):
        if answers.get(key):
            yield f"{key}: {_text(answers[key])}"
    yield f"gauge: {{unit: {answers['dial']}{_of(', top: {}', answers, 'gauge_top')}}}"
    if answers.get("plate"):
        yield f"allowed_pressure: {answers['plate']}   # on her plate or certificate"
    yield f"working_pressure: {answers['wanted']}   # the highest wanted in use"
    yield f"safety_valve: {{lifts: {answers['lifts']}{_of(', feathers: {}', answers, 'feathers')}}}"
    boiler = engine_guess.boiler_of(answers)
    yield from _boiler(answers, boiler)
    yield from _glass(answers, boiler)
    yield from _fire(answers)
    if answers.get("tank"):
        yield f"tank: {{volume: {answers['tank']}}}"
    if answers.get("engine_pump", "") not in ("", "yes", "no"):
        yield f"pump: {{delivers: {answers['engine_pump']}}}   # at tick-over, bypass shut"
    if answers.get("injector", "") not in ("", "yes", "no"):
        yield f"injector: {{from: {answers['injector']}}}"
    counts = [f"{key}: {answers[key]}" for key in COUNTED if answers.get(key)]
    if counts:
        yield f"counts: {{{', '.join(counts)}}}   # what coal and water are counted by"
    yield f"options: [{', '.join(_options(answers))}]"
    if boiler.guessed:
        names = ", ".join(boiler.guessed)
        yield f"guessed: [{names}]   # take a name away when you give its figure"


def _boiler(answers: Answers, boiler: engine_guess.Boiler) -> Iterator[str]:
    yield "boiler:"
    yield (
        f"  volume: {_rounded(boiler.volume_litre)} litre   "
        f"# {_source('volume', boiler, 'the whole water and steam space')}"
    )
    metal = f"{answers['metal']}: {_rounded(boiler.metal_kg)} kg"
    yield f"  metal: {{{metal}}}   # {_source('metal', boiler, 'what warms with the water')}"
    if answers.get("barrel"):
        diameter, length = answers["barrel"].split(" x ")
        yield f"  barrel: {{diameter: {diameter}, length: {length}}}"


def _source(figure: str, boiler: engine_guess.Boiler, told: str) -> str:
    return GUESS if figure in boiler.guessed else told


def _glass(answers: Answers, boiler: engine_guess.Boiler) -> Iterator[str]:
    low, high = boiler.water_litre
    fill = "where she is filled to, cold" if answers.get("cold_fill") else GUESS
    yield "glass:                           # fractions of the visible glass: 0 bottom, 1 top"
    yield f"  visible: {answers['visible']}"
    yield f"  lower_mark: {answers['lower_mark']}   # never steam below this"
    yield f"  upper_mark: {answers['upper_mark']}"
    yield f"  cold_fill: {engine_guess.cold_fill_of(answers):.3g}   # {fill}"
    told = _source("water", boiler, "litres of cold water at these heights")
    yield f"  water: {{0.0: {_rounded(low)} litre, 1.0: {_rounded(high)} litre}}   # {told}"


def _fire(answers: Answers) -> Iterator[str]:
    yield "fire:"
    if answers.get("wood_until"):
        yield f"  wood_until: {answers['wood_until']}"
    else:
        unit = answers["dial"]
        wanted_pa = units.quantity(answers["wanted"], "pressure").si
        wood = engine_guess.WOOD_UNTIL * wanted_pa / PRESSURE_PA[unit]
        yield f"  wood_until: {wood:.2g} {unit}   # {GUESS}"
    if answers.get("usually"):
        yield f"  usually: {answers['usually']}   # from cold"


def _options(answers: Answers) -> Iterator[str]:
    for key, option in _OPTIONS.items():
        if answers.get(key, "") not in ("", "no"):
            yield option
    for key, option in _WITHOUT.items():
        if answers.get(key) == "no":
            yield option


def _of(form: str, answers: Answers, key: str) -> str:
    return form.format(answers[key]) if answers.get(key) else ""


def _rounded(figure: float) -> str:
    """To four figures, never with an exponent.

    >>> _rounded(2948.35), _rounded(4.2007)
    ('2948', '4.201')
    """
    return f"{float(f'{figure:.4g}'):g}"


def _text(words: str) -> str:
    """A text as YAML takes it, whatever it holds."""
    return "'" + words.replace("'", "''") + "'"
