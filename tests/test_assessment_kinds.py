"""Options, steps, faults in a log, spots on a drawing, words: read, shuffled, marked, and told in words.

The rules are those of the course: no mark is taken off for a wrong option; steps earn a share for each pair of
neighbours that follow each other rightly, 4 pairs in 5 steps; a spot earns as much as a wrong one takes, never below 0;
a part about safety is all or nothing. Expected marks are counted by hand.
"""

import hashlib
import json
from itertools import permutations
from pathlib import Path

import pytest

from tlib.assessment import Answer, bank, draw, mark, question
from tlib.assessment.asked import LETTERS
from tlib.assessment.checker import check
from tlib.assessment.marked import FOR_THE_TUTOR
from tlib.assessment.marking import ASSIGNMENT
from tlib.assessment.wording import picture
from tlib.documents import UnreadableDocument

FILE = """\
format = 1
id = "kinds-1"
version = 1
workbook = "13"
outcome = "expansion.size-a-vessel"
level = 1
site = "larkrigg"
written_by = "a test"
references = ["EN 12828 annex D"]
story = "At {site} the gauge reads {cold}."
[given]
cold = { choose = [1.0, 1.2], unit = "bar gauge" }
[[part]]
name = "why"
kind = "choice"
ask = "It reads {cold} cold and drips when hot. What first?"
hints = ["Free.", "Dear."]
options = [
    { says = "Check the vessel's charge", right = true, because = "A valve lifts for a reason." },
    { says = "Fit a new relief valve", slip = "N41" },
    { says = "Fill it above {cold}", because = "That makes it worse." },
]
[[part]]
name = "which"
kind = "choice"
ask = "Which of these work in a power cut?"
options = [
    { says = "relief valve", right = true }, { says = "heat leak", right = true },
    { says = "charge pump", slip = "N42" }, { says = "zone valve", slip = "N43" },
]
[[part]]
name = "recharge"
kind = "order"
ask = "Put the steps in order."
steps = ["Isolate", "Drain", "Check", "Pump", "Fill"]
slips = [{ code = "N42", puts = 3, before = 2 }, { code = "N43", puts = 5, before = 1 }]
[[part]]
name = "log"
kind = "trace"
site = "larkrigg"
ask = "Name the fault and the one test that decides."
fault = { from = ["charge pump dead", "wet wood", "heat leak air-locked"] }
not_faults = [{ says = "The glass is broken", slip = "N44" }]
day = { duration = "10 hour", firing = [{ time = "18:00", kilos = "6 kg", moisture = 0.2 }] }
show = ["burner flow", "store top", "system pressure", "charge pump"]
tests = [
    { says = "Feel the pump", decides = "charge pump dead" }, { says = "Measure the logs", decides = "wet wood" },
    { says = "Feel the leak's pipe", decides = "heat leak air-locked" }, { says = "Change the pump", slip = "N45" },
]
signs = { "wet wood" = "It never gets hot." }
[[part]]
name = "spot"
kind = "schematic"
site = "larkrigg"
ask = "Mark what must not be there."
mistake = { from = ["valve in the vent", "valve in the cold feed"] }
slips = [{ code = "N46", marks = ["log burner"] }]
[[part]]
name = "pumps"
kind = "schematic"
site = "larkrigg"
ask = "Mark three pumps."
right = ["charge pump", "boiler pump", "heating pump"]
[[part]]
name = "letter"
kind = "written"
ask = "Tell the owner why."
rubric = [{ earns = 1, for = "a claim" }, { earns = 2, for = "a number, such as {cold}" }]
working = "Because {cold} is low."
"""


@pytest.fixture
def made(tmp_path):
    """Return a function from the text of a file to its exercise."""

    def make(text=FILE):
        (tmp_path / "kinds-1.toml").write_text(text, encoding="utf-8")
        return bank.load(tmp_path)["kinds-1"]

    return make


@pytest.fixture
def exercise(made):
    return made()


def part_of(exercise, name, text, learner="17", **more):
    """Return one part marked, for what a learner wrote."""
    values = draw(exercise, learner, "k-1")
    return next(part for part in mark(exercise, values, {name: Answer(text, **more)}).parts if part.name == name)


def seen(exercise, name, learner="17"):
    """Return a part as a learner sees it."""
    return next(part for part in question(exercise, draw(exercise, learner, "k-1")).parts if part.name == name)


def letter(asked, says):
    return LETTERS[next(place for place, thing in enumerate(asked.things) if thing.startswith(says))]


def order_of(asked, says):
    return ", ".join(letter(asked, word) for word in says)


# --- own orders


def by_hand(key, learner, exercise, turn, name, count):
    """The shuffle worked again from its description alone: SHA-256, swaps from the last place down."""
    places = list(range(count))
    for last in range(count - 1, 0, -1):
        words = ("own values", key, learner, exercise.id, str(exercise.version), str(turn), f"{name} place {last}")
        line = "".join(f"{len(word)}:{word}," for word in words)
        other = int(hashlib.sha256(line.encode()).hexdigest(), 16) % (last + 1)
        places[last], places[other] = places[other], places[last]
    return tuple(places)


def test_the_order_is_rebuilt_from_key_and_learner_alone(exercise):
    for learner in ("1", "17", "noor"):
        shown = draw(exercise, learner, "k-1").shown
        assert shown["why"] == by_hand("k-1", learner, exercise, 0, "why", 3)
        turn = 0
        while by_hand("k-1", learner, exercise, turn, "recharge", 5) == (0, 1, 2, 3, 4):
            turn += 1
        assert shown["recharge"] == by_hand("k-1", learner, exercise, turn, "recharge", 5)
        assert shown["log"][2:6] == by_hand("k-1", learner, exercise, 0, "log", 4)
        assert shown["log"][6:] == by_hand("k-1", learner, exercise, 1, "log", 4)


def test_every_order_turns_up_about_as_often_and_the_right_one_never(exercise):
    counts = dict.fromkeys(permutations(range(3)), 0)
    for learner in range(600):
        shown = draw(exercise, learner, "k-1").shown
        counts[shown["why"]] += 1
        assert shown["recharge"] != (0, 1, 2, 3, 4)
    assert min(counts.values()) > 65  # 100 are expected in each of 6; 65 is 3.8 standard deviations below
    assert max(counts.values()) < 140


def test_faults_and_mistakes_are_all_drawn(exercise):
    drawn = {(v.shown["log"][0], v.shown["spot"][0]) for v in (draw(exercise, n, "k-1") for n in range(60))}
    assert drawn == {(fault, mistake) for fault in range(3) for mistake in range(2)}


# --- what a learner sees


def test_a_question_shows_letters_and_the_learners_numbers_and_no_answer(exercise):
    asked = seen(exercise, "why")
    assert sorted(asked.things)[:2] == ["Check the vessel's charge", f"Fill it above {_cold(exercise)}"]
    assert (asked.kind, asked.several, asked.marks) == ("choice", False, 1)
    assert seen(exercise, "which").several
    assert seen(exercise, "recharge").marks == 4
    assert "The glass is broken" in seen(exercise, "log").things
    assert "Charge pump dead" in seen(exercise, "log").things
    said = repr(question(exercise, draw(exercise, "17", "k-1")))
    for secret in ("N4", "reason", "worse", "never gets hot", "a claim", "is low"):
        assert secret not in said


def _cold(exercise):
    return f"{draw(exercise, '17', 'k-1').numbers['cold']:g} bar gauge"


# --- options


def test_one_right_option(exercise):
    asked = seen(exercise, "why")
    found = part_of(exercise, "why", letter(asked, "Check"))
    assert (found.verdict, found.earned, found.says, found.why) == ("right", 1, "Right.", "A valve lifts for a reason.")


def test_a_wrong_option_names_its_idea_or_its_reason(exercise):
    asked = seen(exercise, "why")
    found = part_of(exercise, "why", letter(asked, "Fit"))
    assert (found.verdict, found.earned, [slip.code for slip in found.slips]) == ("slip", 0, ["N41"])
    assert found.says.startswith("This looks like: growth counted from 4 °C")
    found = part_of(exercise, "why", letter(asked, "Fill"))
    assert (found.verdict, found.says, found.slips) == ("not right", "That makes it worse.", ())


def test_all_right_options_and_no_other_are_wanted(exercise):
    asked = seen(exercise, "which")
    relief, leak, pump, zone = (letter(asked, says) for says in ("relief", "heat", "charge", "zone"))
    assert part_of(exercise, "which", f"{leak} and {relief}").verdict == "right"
    assert part_of(exercise, "which", f"{leak}{relief}".lower()).earned == 1
    some = part_of(exercise, "which", relief)
    assert (some.verdict, some.earned, some.says) == ("partly right", 0, "Some of it is right.")
    both = part_of(exercise, "which", f"{relief} {pump} {zone}")
    assert (both.verdict, both.earned, [slip.code for slip in both.slips]) == ("slip", 0, ["N42", "N43"])


def test_each_option_may_count(made):
    exercise = made(FILE.replace('ask = "Which of', 'each = true\nask = "Which of'))
    asked = seen(exercise, "which")
    relief, leak, pump, zone = (letter(asked, says) for says in ("relief", "heat", "charge", "zone"))
    earned = {
        f"{relief} {leak}": 4,
        relief: 3,  # three of four told rightly: one ticked, two left
        f"{relief} {leak} {pump}": 3,
        f"{pump} {zone}": 0,
    }
    assert {text: part_of(exercise, "which", text).earned for text in earned} == earned


def test_options_with_an_order_of_their_own_keep_it(made):
    exercise = made(FILE.replace('ask = "Which of', 'as_written = true\nask = "Which of'))
    assert seen(exercise, "which").things == ("relief valve", "heat leak", "charge pump", "zone valve")


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("", "There is no answer here yet. Choose by letter: A to C."),
        ("  and ", "There is no answer here yet."),
        ("D", "There is no option 'D' here. The options are A to C."),
        ("A, a", "Option A is named twice. Name it once."),
        ("7", "There is no option '7' here."),
        ("é" * 5000, "There is no option 'É' here."),
    ],
)
def test_what_cannot_be_read_is_asked_for_again_and_costs_nothing(exercise, text, asks):
    found = part_of(exercise, "why", text)
    assert (found.verdict, found.lines) == ("ask again", ())
    assert found.asks.startswith(asks)


def test_hints_and_tries_cost_as_they_do_for_a_number(exercise):
    asked = seen(exercise, "recharge")
    right = order_of(asked, ("Isolate", "Drain", "Check", "Pump", "Fill"))
    values = draw(exercise, "17", "k-1")
    marked = mark(exercise, values, {"recharge": Answer(right, tries=2, hints=2)}, ASSIGNMENT)
    assert marked.parts[2].earned == pytest.approx(2.4)  # 4, less a quarter of 4, then 80 %


# --- steps


def test_each_pair_of_neighbours_earns(exercise):
    asked = seen(exercise, "recharge")
    earned = {
        ("Isolate", "Drain", "Check", "Pump", "Fill"): 4,
        ("Drain", "Check", "Pump", "Fill", "Isolate"): 3,  # by hand: 2-3, 3-4, 4-5
        ("Isolate", "Drain", "Check", "Fill", "Pump"): 2,  # 1-2, 2-3
        ("Isolate", "Check", "Drain", "Pump", "Fill"): 1,  # 4-5
        ("Fill", "Pump", "Check", "Drain", "Isolate"): 0,
    }
    for says, marks in earned.items():
        assert part_of(exercise, "recharge", order_of(asked, says)).earned == marks, says


def test_two_steps_the_wrong_way_round_name_the_idea(exercise):
    asked = seen(exercise, "recharge")

    def codes(*says):
        return [slip.code for slip in part_of(exercise, "recharge", order_of(asked, says)).slips]

    assert codes("Isolate", "Check", "Drain", "Pump", "Fill") == ["N42"]
    assert codes("Fill", "Isolate", "Drain", "Check", "Pump") == ["N43"]
    assert codes("Fill", "Check", "Isolate", "Drain", "Pump") == ["N42", "N43"]
    assert codes("Isolate", "Drain", "Check", "Fill", "Pump") == []


def test_every_step_is_wanted_once(exercise):
    assert part_of(exercise, "recharge", "A B C D").asks == "Step E is missing. Name every step once."
    assert part_of(exercise, "recharge", "A B").asks == "Steps C, D, E are missing. Name every step once."


def test_about_safety_the_whole_order_must_be_right(made):
    exercise = made(FILE.replace('ask = "Put', 'safety = true\nask = "Put'))
    asked = seen(exercise, "recharge")
    right = order_of(asked, ("Isolate", "Drain", "Check", "Pump", "Fill"))
    nearly = order_of(asked, ("Drain", "Check", "Pump", "Fill", "Isolate"))
    assert [(p.earned, p.gate) for p in (part_of(exercise, "recharge", text) for text in (right, nearly, ""))] == [
        (4, "passed"), (0, "failed"), (0, "open"),
    ]  # fmt: skip


# --- a fault in a log


def log_answer(exercise, name, test, learner="17"):
    asked = seen(exercise, "log", learner)
    number = next(place for place, thing in enumerate(asked.tests, start=1) if thing.startswith(test))
    return part_of(exercise, "log", f"{letter(asked, name)}, {number}", learner)


def learner_with(exercise, fault):
    names = exercise.parts["log"].fault.from_
    return next(str(n) for n in range(100) if names[draw(exercise, n, "k-1").shown["log"][0]] == fault)


def test_the_fault_and_its_test(exercise):
    wet = learner_with(exercise, "wet wood")
    both = log_answer(exercise, "Wet wood", "Measure", wet)
    assert (both.verdict, both.earned, both.why) == ("right", 2, "It never gets hot.")
    named = log_answer(exercise, "Wet wood", "Feel the pump", wet)
    assert (named.verdict, named.earned) == ("partly right", 1)
    followed = log_answer(exercise, "Charge pump dead", "Feel the pump", wet)
    assert (followed.verdict, followed.earned) == ("partly right", 1)  # it would have shown that the name is wrong
    assert [line.follow_through for line in followed.lines] == [False, True]
    neither = log_answer(exercise, "Charge pump dead", "Feel the leak", wet)
    assert (neither.verdict, neither.earned) == ("not right", 0)


def test_ideas_in_names_and_tests_are_named(exercise):
    wet = learner_with(exercise, "wet wood")
    found = log_answer(exercise, "The glass", "Change", wet)
    assert ([slip.code for slip in found.slips], found.earned) == (["N44", "N45"], 0)
    assert [slip.code for slip in log_answer(exercise, "Wet wood", "Change", wet).slips] == ["N45"]


def test_about_safety_a_test_of_the_wrong_fault_earns_nothing(made):
    exercise = made(FILE.replace('ask = "Name', 'safety = true\nask = "Name'))
    wet = learner_with(exercise, "wet wood")
    assert log_answer(exercise, "Charge pump dead", "Feel the pump", wet).earned == 0


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("", "There is no answer here yet. Choose a fault and a test."),
        ("B", "Choose one test too."),
        ("2", "There is no answer here yet."),
        ("A B 2", "Choose one fault only."),
        ("A 1 2", "Choose one test only."),
        ("A 9", "There is no test 9 here. The tests are 1 to 4."),
        ("A 99999999999999999999", "There is no test 999999999 here."),
        ("E 1", "There is no fault 'E' here. The faults are A to D."),
    ],
)
def test_half_an_answer_is_asked_for_again(exercise, text, asks):
    found = part_of(exercise, "log", text)
    assert found.verdict == "ask again"
    assert found.asks.startswith(asks)


def test_the_log_shows_the_drawn_fault_and_travels_as_plain_numbers(exercise):
    part = exercise.parts["log"]
    values = {fault: draw(exercise, learner_with(exercise, fault), "k-1") for fault in part.fault.from_}
    logs = {fault: json.loads(json.dumps(picture(part, one))) for fault, one in values.items()}
    for log in logs.values():
        assert log["series"].keys() == set(part.show)
        assert {len(series) for series in log["series"].values()} == {121}  # 10 hours of five minutes, both ends
    tops = {fault: max(log["series"]["burner flow"]) for fault, log in logs.items()}
    assert tops["charge pump dead"] > tops["heat leak air-locked"] > tops["wet wood"]
    assert (
        logs["wet wood"]["series"]["store top"] != picture(part, draw(exercise, "other", "k-1"))["series"]["store top"]
    )
    top = logs["wet wood"]["series"]["store top"]
    assert all(round(value, 1) == value for value in top)


def test_two_learners_with_one_fault_have_noise_of_their_own(exercise):
    part = exercise.parts["log"]
    found = [draw(exercise, n, "k-1") for n in range(40)]
    one, other = [values for values in found if values.shown["log"][0] == 0][:2]
    tops = [picture(part, values)["series"]["store top"] for values in (one, other)]
    assert tops[0] != tops[1]
    assert max(abs(a - b) for a, b in zip(*tops, strict=True)) < 2.0


# --- spots on a drawing


def test_a_planted_mistake_is_found_by_its_number(exercise):
    for learner in ("1", "2", "3", "4", "5", "6"):
        asked = seen(exercise, "spot", learner)
        planted = draw(exercise, learner, "k-1").shown["spot"][0]
        wanted = ("valve in the pipe from the burner", "valve in the pipe from the cistern")[planted]
        number = next(place for place, thing in enumerate(asked.things, start=1) if thing.startswith(wanted))
        found = part_of(exercise, "spot", str(number), learner)
        assert (found.verdict, found.earned, found.right) == ("right", 1, str(number))
        assert found.why.startswith("A valve must never stand in")


def test_a_wrong_spot_takes_as_much_as_a_right_one_gives(exercise):
    asked = seen(exercise, "pumps")
    charge, boiler, heating, burner = (
        asked.things.index(next(t for t in asked.things if t.startswith(says))) + 1
        for says in ("charge pump", "boiler pump", "heating pump", "log burner")
    )
    earned = {
        (charge, boiler, heating): 3, (charge, boiler): 2, (charge, burner): 0, (charge, boiler, heating, burner): 2,
        (burner,): 0, tuple(range(1, len(asked.things) + 1)): 0,
    }  # fmt: skip
    for spots, marks in earned.items():
        assert part_of(exercise, "pumps", ", ".join(map(str, spots))).earned == marks, spots


def test_a_marked_spot_can_name_an_idea(exercise):
    asked = seen(exercise, "spot")
    burner = next(place for place, thing in enumerate(asked.things, start=1) if thing == "log burner")
    assert [slip.code for slip in part_of(exercise, "spot", str(burner)).slips] == ["N46"]
    assert part_of(exercise, "spot", "99").asks == f"There is no spot 99 here. The spots are 1 to {len(asked.things)}."
    assert part_of(exercise, "spot", "none").asks.startswith("There is no answer here yet. Mark spots by number")


# --- words


def test_words_wait_for_a_person_with_their_rubric(exercise):
    marked = mark(exercise, draw(exercise, "17", "k-1"), {"letter": Answer("It is low.")})
    found = marked.parts[-1]
    assert (found.verdict, found.earned, found.available, found.lines) == (FOR_THE_TUTOR, 0, 3, ())
    assert [(item.mark, item.says) for item in found.items] == [
        ("1", "a claim"),
        ("2", f"a number, such as {_cold(exercise)}"),
    ]
    assert (marked.for_the_tutor, marked.available) == (3, 1 + 1 + 4 + 2 + 1 + 3 + 3)
    assert part_of(exercise, "letter", " \n ").verdict == "ask again"


# --- the gate of safety


@pytest.mark.parametrize(
    ("why", "which", "gate"),
    [("right", "right", "passed"), ("right", "wrong", "failed"), ("", "right", "open"), ("wrong", "", "failed")],
)
def test_the_gate_is_as_its_worst_part(made, why, which, gate):
    exercise = made(FILE.replace('kind = "choice"', 'kind = "choice"\nsafety = true'))
    asked = {part.name: part for part in question(exercise, draw(exercise, "17", "k-1")).parts}
    texts = {
        "why": {"right": letter(asked["why"], "Check"), "wrong": letter(asked["why"], "Fit"), "": ""}[why],
        "which": {"right": order_of(asked["which"], ("relief", "heat")), "wrong": "A", "": ""}[which],
    }
    marked = mark(exercise, draw(exercise, "17", "k-1"), {name: Answer(text) for name, text in texts.items()})
    assert marked.gate == gate


# --- what the checker says of a file

# (what is changed, to what, on which line the checker must point, what it must say)
FAULTS = [
    ('slip = "N41"', 'right = true, slip = "N41"', 20,
     'an option that is right carries no slip'),
    (', slip = "N41"', '', 20,
     'a wrong option carries its idea, slip = "Q21", or a reason'),
    ('slip = "N41"', 'slip = "N99"', 20,
     'N99 is not in the catalogue'),
    ('{ says = "Check the vessel\'s charge", right = true, because = "A valve lifts for a reason." },', '', 18,
     'some options are right = true, and at least one is not'),
    ('"Fill it above {cold}"', '"Fit a new relief valve"', 21,
     'two options say the same'),
    ('"Fill it above {cold}"', '"Fill it above {colder}"', 21,
     'leaves room for {colder}'),
    ('ask = "It', 'each = true\nask = "It', 16,
     'each = true is for several right options'),
    ('"Pump", "Fill"]', '"Fill", "Fill"]', 35,
     'two steps say the same'),
    ('puts = 3, before = 2', 'puts = 2, before = 3', 36,
     'N42 puts step 2 before 3, which is the right order'),
    ('puts = 3, before = 2', 'puts = 7, before = 2', 36,
     'N42 names step 7; there are 5'),
    ('steps = ["Isolate", "Drain", "Check", "Pump", "Fill"]', 'steps = ["Isolate", "Fill"]', 35,
     'at least 3 items'),
    ('"charge pump dead", "wet wood",', '"charge pump broken", "wet wood",', 46,
     "decides = 'charge pump broken'"),
    ('decides = "wet wood"', 'decides = "wet woods"', 46,
     "one test, and only one, has decides = 'wet wood'; 0 have"),
    (', decides = "wet wood"', '', 47,
     'a test has decides = "a fault", or else its idea'),
    ('"store top", "system', '"store roof", "system', 45,
     "'store roof' is not logged; the logger keeps burner flow"),
    ('time = "18:00"', 'time = "25:00"', 44,
     "'25:00' must be a time of day"),
    ('duration = "10 hour"', 'duration = "400 day"', 44, "is 9600 hours; a logged day has at most 48 hours"),
    ('fault = { from', 'fault = { after = 700, from', 42, "is after the end of the day"),
    ('duration = "10 hour"', 'duration = "400 day"', 44, "is 9600 hours; a logged day has at most 48 hours"),
    ("fault = { from", "fault = { after = 700, from", 42, "is after the end of the day"),
    ('kilos = "6 kg"', 'kilos = "6 kWh"', 44,
     'kWh'),
    ('signs = { "wet wood"', 'signs = { "dry wood"', 50,
     "'dry wood' is not among the faults that can be drawn"),
    ('"valve in the cold feed"', '"valve in the soup"', 56,
     "no mistake is known by the name 'valve in the soup'"),
    ('marks = ["log burner"]', 'marks = ["log fire"]', 57,
     "no spot is called 'log fire'; the spots are"),
    ('right = ["charge pump"', 'right = ["charge pumps"', 63,
     "no spot is called 'charge pumps'"),
    ('right = ["charge pump", "boiler pump", "heating pump"]\n', '', 58,
     'give mistake = { from = [...] }, or right'),
    ('earns = 2', 'earns = 9', 68,
     'less than or equal to 5'),
    ('kind = "written"\n', 'kind = "written"\nunit = "kWh"\n', 67,
     'is not a key that is known here'),
    ('kind = "written"\n', '', 64,
     'has no kind; write kind = and one of'),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "line", "says"), FAULTS, ids=range(len(FAULTS)))
def test_each_fault_is_named_with_its_line(tmp_path, old, new, line, says):
    assert FILE.count(old) >= 1
    text = FILE.replace(old, new, 1)
    (tmp_path / "kinds-1.toml").write_text(text, encoding="utf-8")
    report = check(tmp_path)
    found = [fault for fault in report.faults if says in fault.says]
    assert found, [str(fault) for fault in report.faults]
    assert found[0].line == line, str(found[0])


def test_a_fault_that_a_place_cannot_have_is_refused(tmp_path):
    text = FILE.replace('site = "larkrigg"\nask = "Name', 'site = "tansy"\nask = "Name')
    text = text.replace(', firing = [{ time = "18:00", kilos = "6 kg", moisture = 0.2 }]', "")
    (tmp_path / "kinds-1.toml").write_text(text, encoding="utf-8")
    assert "3 Tansy Wharf has no [burner], so it cannot suffer 'charge pump dead'." in str(check(tmp_path).faults[0])


def test_a_day_that_cannot_be_run_is_refused_by_the_check(tmp_path):
    text = FILE.replace('day = { duration = "10 hour",', 'day = { duration = "10 hour", draws = "M",')
    (tmp_path / "kinds-1.toml").write_text(text, encoding="utf-8")
    fault = check(tmp_path).faults[0]
    assert (fault.line, fault.key) == (44, "part.3.day")
    assert "50 °C" in fault.says


def test_reasons_over_several_lines_are_told_as_one(made):
    exercise = made(FILE.replace('"That makes it worse."', '"""That makes\n        it worse."""'))
    assert part_of(exercise, "why", letter(seen(exercise, "why"), "Fill")).says == "That makes it worse."


def test_a_part_without_a_sum_may_be_called_like_a_function(made):
    assert made(FILE.replace('name = "letter"', 'name = "when"')).parts["when"].kind == "written"


def test_a_part_that_is_no_number_cannot_be_reckoned_with(tmp_path):
    text = FILE + '[[part]]\nname = "sum"\nkind = "number"\nask = "?"\nanswer = "2 * why"\nunit = "kWh"\n'
    text += 'within = { exact = true, because = "a count" }\n'
    (tmp_path / "kinds-1.toml").write_text(text, encoding="utf-8")
    with pytest.raises(UnreadableDocument, match="names the part 'why', whose answer is not a number"):
        bank.load(tmp_path)


def test_no_picture_is_drawn_and_nothing_is_run_to_mark(exercise):
    """In a new process, so that nothing is loaded already."""
    import subprocess
    import sys

    code = (
        "import sys\nfrom tlib.assessment import Answer, bank, draw, mark\n"
        f"one = bank.load({str(Path(_folder(exercise)))!r})['kinds-1']\n"
        "mark(one, draw(one, 17, 'k-1'), {'log': Answer('A, 2'), 'spot': Answer('3')})\n"
        "print(sorted({'numba', 'CoolProp', 'matplotlib', 'ipywidgets'} & set(sys.modules)))\n"
    )
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert printed.strip() == "[]"


def _folder(exercise):
    import tempfile

    folder = Path(tempfile.mkdtemp())
    (folder / "kinds-1.toml").write_text(FILE, encoding="utf-8")
    return folder


def test_the_examples_of_the_readme_are_sound(tmp_path):
    """All parts that it prints without a number, put below one head, are read without a fault."""
    import re

    from tlib.tables import shipped

    says = (shipped("exercises") / "README.md").read_text(encoding="utf-8")
    section = says.partition("## Questions without a number")[2].partition("\n## ")[0]
    parts = re.findall(r"```toml\n(.*?)```", section, re.DOTALL)
    head = FILE[: FILE.index("[[part]]")]
    (tmp_path / "kinds-1.toml").write_text(head + "".join(parts), encoding="utf-8")
    kinds = [part.kind for part in bank.load(tmp_path)["kinds-1"].part]
    assert kinds == ["choice", "order", "trace", "schematic", "schematic", "written"]
