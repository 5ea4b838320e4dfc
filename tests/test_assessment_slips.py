"""Shipped exercises: the numbers the course prints, every declared slip, what hints cost, and whatever is typed.

The expected numbers are hand sums of the course, worked twice and independently of this library, with 1.163 Wh a litre
and kelvin and 19.0 and 2.44 MJ/kg (common practice; EN ISO 18125 for the form of the wood sum).
"""

import copy
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tlib.assessment import ASSIGNMENT, Answer, bank, draw, mark
from tlib.assessment.own_values import values_of

BANK = bank.load()
WATER, TONIGHT, BUFFER = BANK["logs-to-water-1"], BANK["logs-tonight-1"], BANK["buffer-check-1"]
LOGS = {"logs": 8, "moisture": 20, "efficiency": 75, "share": 65, "wet": 40}
EVENING = {"volume": 300, "start": 50, "limit": 85, "moisture": 20, "efficiency": 75, "share": 65, "power": 10}


def lines(part):
    return {line.kind: line.earned for line in part.lines}


# The course's numbers.


def test_the_evening_fire_of_the_course():
    right = values_of(WATER, LOGS).right
    assert [f"{right[name]:.1f}" for name in ("in_logs", "useful", "to_water", "to_room")] == [
        "32.7",
        "24.5",
        "15.9",
        "8.6",
    ]
    five = values_of(WATER, {**LOGS, "logs": 5, "moisture": 25}).right
    assert f"{five['in_logs']:.1f}" == "18.9"


def test_the_logs_for_tonight_of_the_course():
    right = values_of(TONIGHT, EVENING).right
    assert (f"{right['headroom']:.1f}", f"{right['kilos']:.1f}") == ("12.2", "6.1")
    cool = values_of(TONIGHT, {**EVENING, "start": 35, "limit": 80}).right
    assert [f"{cool[name]:.3g}" for name in ("headroom", "kilos", "hours")] == ["15.7", "7.88", "1.57"]


@pytest.mark.parametrize(
    ("burn_time", "rated", "house", "turn_down", "litres"),
    [(3, 10, 6, 5, "288"), (3, 10, 6, 10, "369"), (4, 12, 5, 6, "540"), (2, 32, 25, 32, "735")],
)
def test_the_buffer_of_the_course_and_of_the_standard(burn_time, rated, house, turn_down, litres):
    """EN 303-5's formula; its printed example, second-hand, is 735 l."""
    numbers = {"burn_time": burn_time, "rated": rated, "house": house, "turn_down": turn_down, "drop": 40}
    assert f"{values_of(BUFFER, numbers).right['least_store']:.0f}" == litres


# (exercise, given numbers, part, code, the wrong number as the course prints it)
PRINTED_SLIPS = [
    (TONIGHT, {**EVENING, "start": 40, "limit": 80}, "headroom", "N01", 50.2),
    (TONIGHT, {**EVENING, "start": 40, "limit": 80}, "headroom", "N02", 13_956),
    (TONIGHT, {**EVENING, "start": 40, "limit": 80}, "headroom", "N03", 27.9),
    (TONIGHT, {**EVENING, "start": 40, "limit": 80}, "headroom", "N04", 123),
    (TONIGHT, {**EVENING, "start": 40, "limit": 80}, "headroom", "N05", 109),
    (TONIGHT, {**EVENING, "start": 40, "limit": 80}, "headroom", "N06", 50.2),
    (TONIGHT, {**EVENING, "start": 40, "limit": 80}, "headroom", "N07", 20.9),
    (TONIGHT, {**EVENING, "start": 35, "limit": 80}, "hours", "N09", 157),
    (TONIGHT, {**EVENING, "start": 35, "limit": 80}, "hours", "N10", 0.637),
    (TONIGHT, {**EVENING, "start": 35, "limit": 80}, "hours", "N11", 15.7),
    (TONIGHT, {**EVENING, "start": 35, "limit": 80}, "hours", "N12", 94.2),
    (TONIGHT, {**EVENING, "start": 35, "limit": 80}, "kilos", "N32", 1.87),
    (WATER, LOGS, "to_water", "N26", 20.6),
    (WATER, {**LOGS, "wet": 20}, "wet_to_water", "N27", 16.5),
    (WATER, {**LOGS, "wet": 20}, "wet_to_water", "N28", 16.7),
    (WATER, LOGS, "to_water", "N29", 24.5),
    (WATER, {**LOGS, "wet": 20}, "wet_to_water", "N30", 28.3),
    (WATER, LOGS, "to_water", "N31", 57.4),
]


@pytest.mark.parametrize(
    ("exercise", "numbers", "part", "code", "wrong"), PRINTED_SLIPS, ids=lambda v: v if isinstance(v, str) else ""
)
def test_each_slip_gives_the_number_that_the_course_prints(exercise, numbers, part, code, wrong):
    from tlib.assessment.formulary import PRINTED

    (slip,) = [slip for slip in exercise.parts[part].slips if slip.code == code]
    figures = len(str(wrong).replace(".", "").lstrip("0"))
    value = slip.value.value(values_of(exercise, numbers).printed, PRINTED)
    assert float(f"{value:.{figures - 1}e}") == wrong


# Right answers of any learner; every slip of every exercise stands in test_assessment_slip_bank.py.

NUMBERED = {name: [part for part in exercise.part if part.kind == "number"] for name, exercise in BANK.items()}


def typed(number, figures):
    """Write a number plainly to so many figures, as a person does: no powers of ten, noughts kept."""
    rounded = float(f"{number:.{figures - 1}e}")
    return f"{rounded:.{max(figures - 1 - math.floor(math.log10(abs(rounded))), 0)}f}"


def kinds(exercise, values, answers):
    return {part.verdict for part in mark(exercise, values, answers).parts if part.name in answers}


@given(
    name=st.sampled_from(sorted(BANK)),
    learner=st.integers(0, 10_000),
    shift=st.floats(-0.95, 0.95),
    figures=st.integers(6, 9),
)
@settings(max_examples=300, deadline=None)
def test_an_answer_anywhere_in_its_tolerance_is_right(name, learner, shift, figures):
    exercise = BANK[name]
    values = draw(exercise, learner, "right")
    answers = {}
    for part in NUMBERED[name]:
        right = values.right[part.name]
        moved = right if part.within.exact else right + shift * part.within.around(right)
        answers[part.name] = Answer(typed(moved, figures), part.unit.name)
    assert kinds(exercise, values, answers) <= {"right"}


@given(name=st.sampled_from(sorted(BANK)), learner=st.integers(0, 10_000), figures=st.integers(2, 6))
@settings(max_examples=200, deadline=None)
def test_rounding_a_right_answer_to_two_figures_or_more_keeps_it_right(name, learner, figures):
    exercise = BANK[name]
    values = draw(exercise, learner, "rounded")
    answers = {part.name: Answer(typed(values.right[part.name], figures), part.unit.name) for part in NUMBERED[name]}
    assert kinds(exercise, values, answers) <= {"right"}


def test_the_unit_is_lost_once_in_an_exercise():
    values = values_of(WATER, LOGS)
    marked = mark(WATER, values, {"in_logs": Answer("32.7"), "useful": Answer("24.5"), "to_water": Answer("15.9")})
    assert [lines(part)["U"] for part in marked.parts[:3]] == [0, 1, 1]
    assert "lost once already" in marked.parts[1].lines[-1].reason


def test_the_unit_may_come_apart_from_the_number():
    values = values_of(TONIGHT, EVENING)
    marked = mark(TONIGHT, values, {"kilos": Answer("6.1", "kg"), "hours": Answer("73.3", unit="min")})
    assert [part.verdict for part in marked.parts] == ["ask again", "right", "right"]


def test_a_slip_earns_the_method_marks_that_its_working_shows():
    """Of two method marks: a slip of unit keeps both, one wrong step loses one, a wrong plan loses both."""
    values = values_of(WATER, LOGS)
    earned = {}
    for code, text in (("N31", "118 kWh"), ("N26", "42.2 kWh")):  # 32.69 x 3.6; 8 x 19.0 / 3.6
        part = mark(WATER, values, {"in_logs": Answer(text)}).parts[0]
        assert [slip.code for slip in part.slips] == [code]
        earned[code] = part.lines[0].earned
    hours = mark(TONIGHT, values_of(TONIGHT, {**EVENING, "power": 11}), {"hours": Answer("134 h")}).parts[2]  # N09
    assert (earned, hours.slips[0].code, hours.lines[0].earned) == ({"N31": 2, "N26": 1}, "N09", 0)


# What hints and tries cost.


@pytest.mark.parametrize(
    ("hints", "tries", "earned"),
    [(0, 1, 4), (1, 1, 4), (2, 1, 3), (3, 1, 1.5), (0, 2, 3.2), (0, 3, 2.4), (0, 9, 2.4), (2, 2, 2.4)],
)
def test_hints_and_tries_have_their_cost(hints, tries, earned):
    """The course: hint 1 free, hint 2 a quarter, hint 3 half of what is left; tries 100, 80, 60 %."""
    values = values_of(TONIGHT, EVENING)
    part = mark(TONIGHT, values, {"kilos": Answer("6.13 kg", tries=tries, hints=hints)}, ASSIGNMENT).parts[1]
    assert part.earned == pytest.approx(earned)
    assert all(line.reason.endswith(".") for line in part.lines)


def test_in_practice_tries_cost_nothing():
    values = values_of(TONIGHT, EVENING)
    assert mark(TONIGHT, values, {"kilos": Answer("6.13 kg", tries=7)}).parts[1].earned == 4


# Whatever is typed.

NUMBERS = st.one_of(st.floats(allow_nan=True, allow_infinity=True).map(repr), st.text(max_size=30),
                    st.from_regex(r"[0-9 .,]{1,12}( ?(kWh|kW|kg|h|min|l|bar))?", fullmatch=True))  # fmt: skip


UNITS = st.sampled_from(["", "kWh", "?", "h"])


@given(
    texts=st.lists(NUMBERS, min_size=3, max_size=3),
    units=st.lists(UNITS, min_size=3, max_size=3),
    hints=st.integers(0, 3),
    tries=st.integers(1, 5),
)
@settings(max_examples=300, deadline=None)
def test_whatever_is_typed_marks_stay_within_bounds_and_marking_is_pure(texts, units, hints, tries):
    values = values_of(TONIGHT, EVENING)
    answers = {
        part: Answer(text, unit, tries, hints) for part, text, unit in zip(TONIGHT.parts, texts, units, strict=True)
    }
    before = copy.deepcopy(answers)
    marked = mark(TONIGHT, values, answers, ASSIGNMENT)
    assert answers == before
    assert marked == mark(TONIGHT, values, answers, ASSIGNMENT)
    for part in marked.parts:
        assert 0 <= part.earned <= part.available
        assert math.isfinite(part.earned)
        assert part.lines or part.asks


def test_the_order_in_which_answers_come_does_not_matter():
    values = values_of(TONIGHT, EVENING)
    answers = {"hours": Answer("5.02 h"), "kilos": Answer("20 kg"), "headroom": Answer("44 kWh")}
    assert mark(TONIGHT, values, answers) == mark(TONIGHT, values, dict(reversed(answers.items())))


def test_a_wild_answer_seldom_fits_a_slip_and_a_unit_together():
    """A twentieth to twenty times the right answer, evenly by ratio: any name it is given then is chance."""
    ratios = [1.37, *(20 ** ((2 * step - 59) / 59) for step in range(60))]
    named = tried = 0
    for exercise in BANK.values():
        values = draw(exercise, 17, "wild")
        for part in exercise.number_parts:
            for ratio in ratios:
                answer = Answer(f"{ratio * values.right[part.name]:.6g} {part.unit.name}")
                found = mark(exercise, values, {part.name: answer}).parts
                named += next(one for one in found if one.name == part.name).verdict == "slip and unit slip"
                tried += 1
    assert tried > 5000
    assert named / tried < 0.03
