"""A part that shows a logged day with something broken: the learner names the fault, and the test that decides."""

import re
from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, model_validator

from tlib.assessment.asked import LETTERS, QuestionPart
from tlib.assessment.fields import SITES, Code, Hints, Name, Text
from tlib.assessment.lettered import letters, places_read, shuffled
from tlib.assessment.logged_day import day_faults, logged
from tlib.assessment.looks_like import lowered
from tlib.assessment.marked import Item, MarkedPart, MarkLine
from tlib.assessment.naming import texts_in_sight
from tlib.assessment.typed import Unreadable
from tlib.documents import Record

__all__ = ["Drawn", "Named", "Part", "Test", "TraceMarks", "codes", "draw", "faults", "mark", "picture", "said", "show"]

Count = Annotated[int, Field(strict=True, ge=1, le=5)]
_SEEDS = 2**31


class Drawn(Record):
    """The faults of which one is drawn for each learner, and for how long all is well before it."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    from_: Annotated[tuple[str, ...], Field(alias="from", min_length=2, max_length=6)]
    after: Annotated[float, Field(strict=False, ge=0, le=10_000)] = 0.0


class Named(Record):
    """Something else to choose that is never the fault, with the idea behind it or the reason against it."""

    says: Text
    slip: Code | None = None
    because: Text | None = None


class Test(Record):
    """A test: it decides one of the faults, or carries an idea or the reason against it."""

    says: Text
    decides: str | None = None
    slip: Code | None = None
    because: Text | None = None

    @model_validator(mode="after")
    def _one_of_them(self):
        if (self.decides is None) == (self.slip is None and self.because is None):
            raise ValueError('a test has decides = "a fault", or else its idea, slip = "Q25", or because = "..."')
        return self


class TraceMarks(Record):
    """The marks for the fault's name and for the test that decides."""

    name: Count = 1
    test: Count = 1


class Part(Record):
    """One question about a logged day; `day` is written as the conditions of a run are."""

    name: Name
    kind: Literal["trace"]
    ask: Text
    site: Literal[tuple(SITES)]
    fault: Drawn
    not_faults: Annotated[tuple[Named, ...], Field(max_length=4)] = ()
    day: dict[str, Any] = Field(default_factory=dict)
    show: Annotated[tuple[str, ...], Field(min_length=1, max_length=6)]
    tests: Annotated[tuple[Test, ...], Field(min_length=2, max_length=8)]
    signs: dict[str, Text] = Field(default_factory=dict)
    marks: TraceMarks = TraceMarks()
    hints: Hints = ()
    working: Text | None = None
    safety: bool = False

    @property
    def total(self):
        """All its marks."""
        return self.marks.name + self.marks.test

    @property
    def names(self):
        """What can be chosen as the fault, in the order of the file."""
        return (*(f"{name[:1].upper()}{name[1:]}" for name in self.fault.from_), *(one.says for one in self.not_faults))

    def place_of_test(self, place):
        """Return the place of the test that decides a fault; None for what is no fault here."""
        if place >= len(self.fault.from_):
            return None
        return next(at for at, test in enumerate(self.tests) if test.decides == self.fault.from_[place])

    def unpacked(self, shown):
        """Return a learner's draw as the drawn fault, the noise, the order of the names and that of the tests."""
        drawn, seed, *orders = shown
        return drawn, seed, tuple(orders[: len(self.names)]), tuple(orders[len(self.names) :])


# --- read


def faults(part, kinds, parts):
    """Yield where, by key, and what is wrong with faults, tests and the day."""
    decided = [test.decides for test in part.tests if test.decides]
    for name in part.fault.from_:
        if decided.count(name) != 1:
            yield ("tests",), f"one test, and only one, has decides = {name!r}; {decided.count(name)} have"
    named = [(("tests", place, "decides"), test.decides) for place, test in enumerate(part.tests) if test.decides]
    for keys, name in (*named, *((("signs", name), name) for name in part.signs)):
        if name not in part.fault.from_:
            yield keys, f"{name!r} is not among the faults that can be drawn"
    yield from day_faults(part)


def said(part):
    """Return its texts, each with its key: those in sight before an answer, and those told afterwards."""
    before = texts_in_sight(part)
    after = [(("working",), part.working or ""), *((("signs", name), text) for name, text in part.signs.items())]
    for key, things in (("not_faults", part.not_faults), ("tests", part.tests)):
        before += [((key, place, "says"), thing.says) for place, thing in enumerate(things)]
        after += [((key, place, "because"), thing.because or "") for place, thing in enumerate(things)]
    return before, after


def codes(part):
    """Yield the key and the code of each slip that a part names."""
    for key, things in (("not_faults", part.not_faults), ("tests", part.tests)):
        for place, thing in enumerate(things):
            if thing.slip:
                yield (key, place, "slip"), thing.slip


# --- draw


def draw(part, number):
    """Return the place of the drawn fault, the seed of the noise, and the orders of names and of tests."""
    names = shuffled(len(part.names), number)
    tests = shuffled(len(part.tests), number, turn=1)
    return (number(0, "fault") % len(part.fault.from_), number(0, "noise") % _SEEDS, *names, *tests)


# --- show


def show(part, words, shown):
    """Return a part as a learner meets it."""
    _, _, names, tests = part.unpacked(shown)
    things = tuple(words(part.names[place]) for place in names)
    return QuestionPart(part.name, words(part.ask), "", part.total, tuple(map(words, part.hints)), part.safety,
                        "trace", things, tests=tuple(words(part.tests[place].says) for place in tests))  # fmt: skip


def picture(part, shown):
    """Return the log of the learner's own day; it is simulated here."""
    drawn, seed, _, _ = part.unpacked(shown)
    return logged(part, part.fault.from_[drawn], seed)


# --- mark


def mark(part, answer, progress):
    """Mark the name of a fault and the test that decides.

    Parameters
    ----------
    part : Part
    answer : Answer or None
        Its text holds the letter of the fault and the number of the test, as this learner sees them: "B, 2".
    progress : Progress

    Returns
    -------
    MarkedPart
        The test also counts where it decides the fault that the learner named, except where it is about safety.
    """
    drawn, _, names, tests = part.unpacked(progress.values.shown[part.name])
    wanted = part.place_of_test(drawn)
    right = _written(names.index(drawn), tests.index(wanted))
    typed = " ".join(answer.text.split()) if answer else ""
    try:
        name_at, test_at = _both(typed, len(names), len(tests))
    except Unreadable as request:
        return MarkedPart(part.name, "ask again", typed, right, part.total, "trace", asks=str(request))
    name, test = names[name_at], tests[test_at]
    lines = (_name_line(part, name == drawn), _test_line(part, test, wanted, part.place_of_test(name)))
    slips = tuple({code: progress.catalogue[code] for code in _slips(part, name, test)}.values())
    is_right = name == drawn and test == wanted
    earned = any(line.earned for line in lines)
    verdict = "right" if is_right else "slip" if slips else "partly right" if earned else "not right"
    items = tuple(
        Item(LETTERS[at], progress.words(part.names[place]), place == name, place == drawn)
        for at, place in enumerate(names)
    ) + tuple(
        Item(str(at), progress.words(part.tests[place].says), place == test, place == wanted)
        for at, place in enumerate(tests, start=1)
    )
    says = " ".join(_says(part, name, test, drawn, slips, progress))
    why = progress.words(part.signs.get(part.fault.from_[drawn], ""))
    return MarkedPart(part.name, verdict, _written(name_at, test_at), right, part.total, "trace", lines, slips,
                      says=says, items=items, why=why)  # fmt: skip


def _written(name, test):
    return f"{letters([name])}, {test + 1}"


def _both(text, names, tests):
    numbers = re.findall(r"\d+", text)
    if not text:
        raise Unreadable("There is no answer here yet. Choose a fault and a test.")
    (name, *others) = places_read(re.sub(r"\d+", " ", text), names, "fault")
    if others:
        raise Unreadable("Choose one fault only.")
    if len(numbers) != 1:
        raise Unreadable("Choose one test too." if not numbers else "Choose one test only.")
    if not 1 <= int(numbers[0][:9]) <= tests:
        raise Unreadable(f"There is no test {numbers[0][:9]} here. The tests are 1 to {tests}.")
    return name, int(numbers[0]) - 1


def _name_line(part, is_right):
    why = "This is the fault." if is_right else "This is not the fault that the log shows."
    return MarkLine("B", part.marks.name * is_right, part.marks.name, why)


def _test_line(part, test, wanted, own):
    if test == wanted:
        return MarkLine("B", part.marks.test, part.marks.test, "This test decides.")
    if test == own and not part.safety:
        why = "This test decides the fault that you named, and would have shown that it is not the one."
        return MarkLine("B", part.marks.test, part.marks.test, why, follow_through=True)
    return MarkLine("B", 0, part.marks.test, "This test does not decide.")


def _chosen(part, name, test):
    beyond = name - len(part.fault.from_)
    return [*([part.not_faults[beyond]] if beyond >= 0 else []), part.tests[test]]


def _slips(part, name, test):
    return [thing.slip for thing in _chosen(part, name, test) if thing.slip]


def _says(part, name, test, drawn, slips, progress):
    if name == drawn and test == part.place_of_test(drawn):
        yield "Right."
    yield from (f"This looks like: {lowered(slip.feedback)}" for slip in slips)
    yield from (progress.words(one.because) for one in _chosen(part, name, test) if one.because and not one.slip)
