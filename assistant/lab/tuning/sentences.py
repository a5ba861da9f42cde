"""What to have spoken: sentences of the grammar, of every form, and other sentences.

Knows the grammar and chance; knows no sound.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from assistant.grammar.numbers import Words
from assistant.grammar.phrases import EXPECTED_KINDS, grammar
from assistant.messages import Expected, ExpectedKind
from assistant.recogniser.inverse_normalisation import RUN_WORDS

_LINKS = frozenset({"a", "an", "and"})  # in numbers, and everywhere else

# Said beside an engine or anywhere; some are near to sentences of the grammar.
_WHO = (
    "he", "she", "my brother", "the man over there", "somebody", "your friend", "the farmer", "we",
    "they", "nobody", "that woman", "our neighbour", "the vicar", "a policeman", "the driver",
)  # fmt: skip
_DID = (
    "left", "wants", "forgot", "is looking for", "brought", "dropped", "has sold", "painted", "saw",
    "bought", "is mending", "cannot find", "should carry", "used to like", "will clean", "lost",
)  # fmt: skip
_WHAT = (
    "his sandwiches", "the trailer keys", "a cup of tea", "five pounds of apples", "the old wagon",
    "two bags of flour", "that blue bucket", "half a loaf", "the children", "a new lorry",
    "three quarters of the cake", "the tank engine", "a glass of beer", "the boiler suit",
    "forty photographs", "the water bottles", "an open window", "the coal merchant", "his gear",
    "two hundred leaflets", "the steam fair", "a shut gate", "the fire engine", "six clean shirts",
    "the pressure cooker", "eighteen chairs", "some oil paintings", "the blue whistle", "a pump",
)  # fmt: skip
_ALONE = (
    "mind your feet please", "is it going to rain again", "where did you park the car",
    "can you see the tractor from here", "whose dog is this one", "the kettle is on in the tent",
    "put it down over there", "i was here last year as well", "how old is she then",
    "how much did that cost you", "she was built in nineteen hundred and eight",
    "the road was closed at seventy five", "half of them went home",
    "we had three quarters of an hour",
    "it was about five minutes ago", "no i have not seen it", "yes of course you can",
    "what next then shall we have some lunch", "say it again sam",
    "you were right about the weather",
    "that is not what i said to him", "she will be ready soon my dear",
    "look at the water in that field",
    "there is a lot of pressure on the team", "the glass is in the kitchen",
    "the fire brigade came",
    "do not touch that it is hot", "can i have a go on it", "does it burn wood or coal",
    "how fast does it go", "hello there", "thank you very much", "good morning everybody",
    "excuse me", "see you tomorrow", "never mind", "all right", "one two three testing",
    "what time is it", "have you got change for twenty pounds", "i will take two of them",
    "call me on oh one six three", "seven of us came by bus", "that is quite wrong of them",
    "the gauge on my car is broken", "how long have you had it", "where are the others",
    "they shut the road at ten", "it is full of people today", "the tea is ready in the tent",
    "i will be back in five minutes", "is it always this loud", "the drains smell in this town",
    "what is she worth then", "stop pulling my sleeve", "wait until your mother sees that",
    "the pub is open until eleven", "our train was half an hour late", "sixty years ago perhaps",
    "there were thirty or forty of them", "he is out of his mind", "give me a hand with this",
    "mine is cleaner than yours", "the wood is wet", "a lot of rain this week", "lovely smell",
    "my tank leaks as well", "show him the valves", "who lit that bonfire",
    "it blows from the west",
)  # fmt: skip


def form_of(words: Words) -> Words:
    """The sentence with every number as one mark: sentences of one form differ in numbers only.

    >>> form_of(("pressure", "one", "hundred", "and", "five"))
    ('pressure', '#')
    """
    form: list[str] = []
    for word in words:
        number = word in RUN_WORDS and (word not in _LINKS or (form and form[-1] == "#"))
        if not number:
            form.append(word)
        elif not form or form[-1] != "#":
            form.append("#")
    return tuple(form)


def grammar_sentences(count: int, rng: np.random.Generator) -> Iterator[tuple[ExpectedKind, Words]]:
    """Sentences with the question they answer: a form drawn by weight, then its numbers.

    Long forms are many and seldom said, forms with a number are few and often said.
    """
    pools = {kind: _by_form(grammar(Expected(kind)).sentences) for kind in EXPECTED_KINDS}
    kinds = [*EXPECTED_KINDS]
    for at in range(count):
        kind = kinds[at % len(kinds)]
        forms = pools[kind]
        names = list(forms)
        weights = np.array([_weight(name) for name in names])
        of_form = forms[names[int(rng.choice(len(names), p=weights / weights.sum()))]]
        yield kind, of_form[int(rng.integers(len(of_form)))]


def _weight(form: Words) -> float:
    return (1.0 if len(form) <= 4 else 1 / 3) * (5.0 if "#" in form else 1.0)


def _by_form(sentences: Mapping[Words, object]) -> dict[Words, list[Words]]:
    forms: dict[Words, list[Words]] = defaultdict(list)
    for words in sorted(sentences):
        forms[form_of(words)].append(words)
    return forms


def other_sentences(count: int, rng: np.random.Generator) -> Iterator[tuple[ExpectedKind, Words]]:
    """Sentences that are not of the grammar: other talk, sentences with a word changed or lost, and
    the beginning of one with the end of another."""
    damaged, crossed = _damaged(rng), _crossed(rng)
    kinds = [*EXPECTED_KINDS]
    for at in range(count):
        kind = kinds[at % len(kinds)]
        words = (_talk(rng), next(damaged), next(crossed))[at % 3]
        if not any(grammar(Expected(each)).meaning(words) for each in kinds):
            yield kind, words


def _talk(rng: np.random.Generator) -> Words:
    if rng.random() < 0.5:
        return tuple(_drawn(_ALONE, rng).split())
    return tuple(" ".join((_drawn(_WHO, rng), _drawn(_DID, rng), _drawn(_WHAT, rng))).split())


def _drawn(things: Sequence[str], rng: np.random.Generator) -> str:
    return things[int(rng.integers(len(things)))]


def _crossed(rng: np.random.Generator) -> Iterator[Words]:
    pools = [*_by_form(grammar(Expected("any")).sentences).values()]
    while True:
        first, second = (
            pool[int(rng.integers(len(pool)))]
            for pool in (pools[int(at)] for at in rng.integers(len(pools), size=2))
        )
        if 2 <= len(first) <= 5 and 2 <= len(second) <= 5:
            end, begin = int(rng.integers(1, len(first))), int(rng.integers(1, len(second)))
            yield (*first[:end], *second[begin:])


def _damaged(rng: np.random.Generator) -> Iterator[Words]:
    plain = [words for words in sorted(grammar(Expected("any")).sentences) if len(words) > 2]
    strange = ("table", "horse", "yesterday", "green", "people", "window", "sometimes", "engine")
    while True:
        words = list(plain[int(rng.integers(len(plain)))])
        at = int(rng.integers(len(words)))
        damage = rng.random()
        if damage < 0.5:
            words[at] = _drawn(strange, rng)
        elif damage < 0.75:
            words.insert(at, _drawn(strange, rng))
        else:
            del words[at]
        yield tuple(words)
