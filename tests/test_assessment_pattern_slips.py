"""The ideas that show as a choice or a pattern: each is carried by the bank, and is named for the learner who holds it.

The list of 28 ideas is the course's own catalogue (teaching knowledge, no published source). What is proved here: an
answer built to hold an idea gets its name, for 200 learners' own shuffles, and that no right answer ever does.
"""

from itertools import combinations

import pytest

from tlib.assessment import Answer, bank, draw, mark
from tlib.assessment.logged_day import logged
from tlib.assessment.marked import FOR_THE_TUTOR
from tlib.assessment.own_values import attempt_key
from tlib.assessment.parts import KINDS_OF_PART
from tlib.assessment.sites import site
from tlib.installation.schematic_plan import MISTAKES, plan_of

BANK = bank.load()
DRAWS = 200
LETTERS = "ABCDEFGH"
CODES = [f"Q{n:02}" for n in range(1, 29)]
PATTERNED = [(exercise.id, part.name) for exercise in BANK.values() for part in exercise.part
             if part.kind in ("choice", "order", "trace", "schematic")]  # fmt: skip
IDS = ["{} {}".format(*one) for one in PATTERNED]


def carried(part):
    return {code for _, code in KINDS_OF_PART[part.kind].codes(part)}


@pytest.fixture(scope="module")
def drawn():
    return {name: [draw(exercise, learner, attempt_key("bank", 1)) for learner in range(DRAWS)]
            for name, exercise in BANK.items()}  # fmt: skip


def test_every_idea_is_carried_by_a_part_that_is_not_a_number():
    found = set().union(*(carried(BANK[name].parts[part]) for name, part in PATTERNED))
    assert [code for code in CODES if code not in found] == []


@pytest.mark.parametrize(
    ("kind", "least"), [("choice", 16), ("order", 6), ("trace", 4), ("schematic", 5), ("written", 8)]
)
def test_there_is_variety(kind, least):
    assert sum(part.kind == kind for exercise in BANK.values() for part in exercise.part) >= least


# Answers, built from the file and from what this learner sees.


def choice(part, shown, ticked):
    return ", ".join(LETTERS[place] for place, option in enumerate(shown) if option in ticked)


def right_choice(part, shown):
    return choice(part, shown, {place for place, option in enumerate(part.options) if option.right})


def wrong_choices(part, shown):
    """Yield the code and the answer of one who ticks a wrong option, beside the right ones where several are."""
    rights = {place for place, option in enumerate(part.options) if option.right}
    for place, option in enumerate(part.options):
        if option.slip:
            yield option.slip, choice(part, shown, {place} | (rights if len(rights) > 1 else set()))


def order(shown, steps):
    return ", ".join(LETTERS[shown.index(step)] for step in steps)


def right_order(part, shown):
    return order(shown, range(len(part.steps)))


def wrong_orders(part, shown):
    for slip in part.slips:
        steps = [step for step in range(len(part.steps)) if step != slip.puts - 1]
        steps.insert(steps.index(slip.before - 1), slip.puts - 1)
        yield slip.code, order(shown, steps)


def trace_answer(part, shown, name, test):
    _, _, names, tests = part.unpacked(shown)
    return f"{LETTERS[names.index(name)]}, {tests.index(test) + 1}"


def right_trace(part, shown):
    fault = shown[0]
    (test,) = [at for at, test in enumerate(part.tests) if test.decides == part.fault.from_[fault]]
    return trace_answer(part, shown, fault, test)


def wrong_traces(part, shown):
    """Yield the right fault with a test that holds an idea, and a name that holds one with the right test."""
    fault = shown[0]
    (decides,) = [at for at, test in enumerate(part.tests) if test.decides == part.fault.from_[fault]]
    for at, test in enumerate(part.tests):
        if test.slip:
            yield test.slip, trace_answer(part, shown, fault, at)
    for at, named in enumerate(part.not_faults, start=len(part.fault.from_)):
        if named.slip:
            yield named.slip, trace_answer(part, shown, at, decides)


def spots(part, shown, names):
    plan = plan_of(site(part.site), part.mistake.from_[shown[0]] if part.mistake else None)
    return ", ".join(str(spot.number) for spot in plan.spots if spot.name in names)


def right_names(part, shown):
    return part.right or (MISTAKES[part.mistake.from_[shown[0]]].spot,)


def right_spots(part, shown):
    return spots(part, shown, right_names(part, shown))


def wrong_spots(part, shown):
    """Yield, for each spot that holds an idea, that spot beside all the right ones but one."""
    kept = right_names(part, shown)[1:]
    for slip in part.slips:
        for name in slip.marks:
            if answer := spots(part, shown, {name}):
                yield slip.code, ", ".join([answer, *filter(None, [spots(part, shown, kept)])])


RIGHT = {"choice": right_choice, "order": right_order, "trace": right_trace, "schematic": right_spots}
WRONG = {"choice": wrong_choices, "order": wrong_orders, "trace": wrong_traces, "schematic": wrong_spots}


def marked(exercise, values, part, text):
    (found,) = [one for one in mark(exercise, values, {part.name: Answer(text)}).parts if one.name == part.name]
    return found


@pytest.mark.parametrize(("name", "part_name"), PATTERNED, ids=IDS)
def test_the_learner_who_holds_an_idea_reads_its_name(drawn, name, part_name):
    exercise = BANK[name]
    part, seen = exercise.parts[part_name], set()
    for values in drawn[name]:
        for code, text in WRONG[part.kind](part, values.shown[part_name]):
            found = marked(exercise, values, part, text)
            assert found.verdict == "slip", (values.shown[part_name], text, found)
            assert code in [slip.code for slip in found.slips]
            assert found.earned < found.available
            feedback = BANK.slips[code].feedback
            assert feedback[1:] in found.says
            assert "This looks like: " in found.says
            seen.add(code)
    assert seen == carried(part)


@pytest.mark.parametrize(("name", "part_name"), PATTERNED, ids=IDS)
def test_no_right_answer_is_ever_called_an_idea(drawn, name, part_name):
    exercise = BANK[name]
    part = exercise.parts[part_name]
    for values in drawn[name]:
        found = marked(exercise, values, part, RIGHT[part.kind](part, values.shown[part_name]))
        assert (found.verdict, found.slips, found.earned) == ("right", (), found.available)
        assert "This looks like" not in found.says


@pytest.mark.parametrize(("name", "part_name"), PATTERNED, ids=IDS)
def test_learners_do_not_all_see_the_same(drawn, name, part_name):
    part = BANK[name].parts[part_name]
    seen = {values.shown[part_name] for values in drawn[name]}
    if part.kind == "schematic":
        assert len(seen) == len(part.mistake.from_ if part.mistake else ["sound"])
    else:
        assert len(seen) > 1 or part.as_written
    assert part.kind != "order" or tuple(range(len(part.steps))) not in seen


# What the author owes.


@pytest.mark.parametrize(("name", "part_name"), PATTERNED, ids=IDS)
def test_a_wrong_pick_that_could_hurt_somebody_is_in_a_part_about_safety(name, part_name):
    """A valve in the leak, no mains, relief for heat, two supplies, a shared spur, a bridged cut-out, two alike."""
    part = BANK[name].parts[part_name]
    assert part.safety or not carried(part) & {"Q07", "Q10", "Q11", "Q12", "Q13", "Q15", "Q16", "Q26"}


def test_every_part_of_these_kinds_has_hints_and_a_working():
    for exercise in BANK.values():
        for part in exercise.part:
            if part.kind != "number":
                assert part.hints, (exercise.id, part.name)
                assert part.working, (exercise.id, part.name)


def test_the_right_option_is_not_known_by_its_length():
    """Of all choices with one right option, it is the longest in fewer than two in five."""
    lone = [part for exercise in BANK.values() for part in exercise.part
            if part.kind == "choice" and len(part.right_places) == 1]  # fmt: skip
    longest = [max(part.options, key=lambda option: len(option.says)).right is True for part in lone]
    assert len(lone) > 30
    assert sum(longest) < 0.4 * len(lone)


def test_what_is_written_waits_for_a_person():
    for exercise in BANK.values():
        for part in exercise.part:
            if part.kind == "written":
                found = marked(exercise, draw(exercise, 1, "words-1"), part, "Because hot water floats on cool water.")
                assert (found.verdict, found.earned) == (FOR_THE_TUTOR, 0)
                assert found.available == sum(point.earns for point in part.rubric)


TRACES = [(exercise.id, part.name) for exercise in BANK.values() for part in exercise.part if part.kind == "trace"]


@pytest.mark.parametrize(("name", "part_name"), TRACES)
def test_no_two_faults_of_one_log_look_alike(name, part_name):
    """Somewhere they differ by far more than the sensors' noise: 3 K, 0.15 bar or an hour of a pump."""
    part = BANK[name].parts[part_name]
    logs = {fault: logged(part, fault, 1)["series"] for fault in part.fault.from_}
    for one, other in combinations(logs, 2):
        assert any(apart(channel, logs[one][channel], logs[other][channel]) for channel in part.show), (one, other)


def apart(channel, one, other):
    gaps = [abs(a - b) for a, b in zip(one, other, strict=True) if a is not None and b is not None]
    if set(one) | set(other) <= {0, 1}:
        return sum(gaps) >= 12
    return max(gaps) > (0.15 if channel == "system pressure" else 3.0)
