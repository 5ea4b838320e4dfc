"""The checker: what is wrong in a folder of exercises, where, and what to do about it."""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from tlib.assessment.bank import read_folder
from tlib.assessment.filling import holes
from tlib.assessment.formulary import PRINTED
from tlib.assessment.formulas import NoValue
from tlib.assessment.own_values import APART, sample, values_of, variants
from tlib.assessment.reading import place
from tlib.documents import UnreadableDocument

__all__ = ["FEWEST", "FEWEST_FOR_ASSIGNMENTS", "Checked", "Report", "check"]

FEWEST, FEWEST_FOR_ASSIGNMENTS = 20, 50
_TRIED = 400
_ALWAYS = 0.9


@dataclass(frozen=True)
class Checked:
    """One sound exercise file.

    Attributes
    ----------
    id, path : str
        The exercise and its file.
    draws : int
        How many sets of values it gives, estimated where there are very many; 1 where nothing is drawn but an order.
    for_assignments : bool
        Whether that is enough for work that counts; always where no part asks for a number, since the letters of
        options and steps differ from learner to learner.
    """

    id: str
    path: str
    draws: int
    for_assignments: bool


@dataclass(frozen=True)
class Report:
    """What the checker found: every fault, and every exercise that could be read."""

    faults: tuple
    exercises: tuple

    @property
    def sound(self):
        """Whether there is no fault at all."""
        return not self.faults


def check(folder):
    """Check every exercise file of a folder.

    Parameters
    ----------
    folder : str or Path
        The folder; its own ``slips.toml`` and ``outcomes.toml`` count where it has them.

    Returns
    -------
    Report
        Each fault prints as file, line, key and a sentence that says what to do.
    """
    try:
        bank, texts, faults = read_folder(Path(folder))
    except UnreadableDocument as fault:  # the catalogue of slips or the outcomes
        return Report(fault.faults, ())
    exercises = []
    for name, exercise in bank.items():
        path, text = texts[name]
        checked, found = _checked(exercise, path)
        exercises.append(checked)
        faults.extend(place(path, text, keys, says) for keys, says in found)
    return Report(tuple(sorted(faults, key=lambda fault: (fault.path, fault.line))), tuple(exercises))


def _checked(exercise, path):
    total, tried, accepted = variants(exercise, _TRIED)
    draws = accepted if tried == total else total * accepted // tried
    found = [*_unused(exercise), *(_too_close(exercise, tried) if accepted < tried else ())]
    if exercise.number_parts and draws < FEWEST:
        found.append((("given",), _too_few(draws)))
    enough = not exercise.number_parts or draws >= FEWEST_FOR_ASSIGNMENTS
    return Checked(exercise.id, str(path), draws, enough), found


def _too_few(draws):
    return f"gives {draws} sets of values; at least {FEWEST} are wanted. Give a number more values, or a slip more room"


def _unused(exercise):
    formulas = [*exercise.needs, *(part.answer for part in exercise.number_parts)]
    formulas += [slip.value for part in exercise.number_parts for slip in part.slips]
    used = frozenset().union(*(formula.names for formula in formulas))
    told = {name for text in (exercise.story, *(part.ask for part in exercise.part)) for name, _ in holes(text)}
    for name in exercise.given:
        if exercise.number_parts and name not in used:
            yield ("given", name), "is never used in a formula; use it or take it out"
        if name not in told:
            yield ("story",), f"does not name {{{name}}}; a learner cannot know it. Put it into the story"


def _too_close(exercise, tried):
    """Name each slip that by itself spoils almost every set of values."""
    spoilt = Counter()
    for numbers in sample(exercise, _TRIED):
        try:
            spoilt.update(_spoilers(exercise, values_of(exercise, numbers).printed))
        except NoValue as fault:
            yield ("part",), f"a right answer has no value for some numbers: {fault}; narrow the given values"
            return
    for (number, count), times in sorted(spoilt.items()):
        if times >= _ALWAYS * tried:
            yield ("part", number, "slips", count), _close_words(exercise.part[number].slips[count], times, tried)


def _close_words(slip, times, tried):
    if slip.near:
        return (
            f'{slip.code} is near = "right" but lies outside the tolerance in {times} of {tried} sets; leave near out'
        )
    return (
        f"{slip.code} lies within {APART:g} tolerances of the right answer in {times} of {tried} sets of values; "
        'move the values apart, or write near = "right" if it may count as right'
    )


def _spoilers(exercise, printed):
    for number, part in enumerate(exercise.part):
        if part.kind != "number":
            continue
        tolerance = part.within.around(printed[part.name])
        for count, slip in enumerate(part.slips):
            try:
                distance = abs(slip.value.value(printed, PRINTED) - printed[part.name])
            except NoValue:
                yield number, count
                continue
            if distance > tolerance if slip.near else distance < APART * tolerance:
                yield number, count
