"""Answering on the page: every kind of field, what it keeps, how it is marked in practice, what a hand-out tells."""

import html
import json
import re
import sys
import time

import pytest

from tlib.assessment import bank, desk, setting
from tlib.assessment.asked import QuestionPart
from tlib.assessment.logged_day import logged
from tlib.assessment.marked import GATE_SAYS
from tlib.assessment.parts import trace
from tlib.panels.answering import FIELDS, PICTURED, field_for
from tlib.panels.answers import ExerciseBox
from tlib.panels.hand_in import HandInBox
from tlib.panels.set_work import SetBox
from tlib.panels.sitting import Sitting

from . import kinds_files as kinds

STEPS = ("Shut it.", "Drain it", "Read it", "Fill it")


def asked(kind, things=(), **more):
    return QuestionPart("part", "What?", "kWh" if kind == "number" else "", 1, (), False, kind, things, **more)


MADE = {
    "number": (asked("number"), "6 kWh", "7 kWh"),
    "choice": (asked("choice", ("one", "two & three", "four")), "B", "C"),
    "several": (asked("choice", ("one", "two", "three"), several=True), "A, C", "B"),
    "order": (asked("order", STEPS), "B, A, C, D", "D, C, B, A"),
    "trace": (asked("trace", ("dead", "wet", "cold"), tests=("feel", "look")), "B, 2", "A"),
    "schematic": (asked("schematic", ("burner", "pump", "valve"), several=True), "1, 3", "2"),
    "written": (asked("written"), "It <drips>.\nAnd more: 3 bar.", "No."),
}
PICKED = [name for name in MADE if name not in ("number", "written")]
FOREIGN = ["Z", "99", "A, A", "x" * 6000, "9" * 6000, "Z, 99", "-1", "²", "٣", "<b>A</b>", "\x00", "ﬁß"]


@pytest.fixture(params=MADE)
def made(request):
    question, first, second = MADE[request.param]
    return field_for(question, "Your answer"), first, second


def heard(field):
    told = []
    field.on_change(told.append)
    return told


class TestEveryField:
    def test_there_is_one_for_each_kind(self):
        assert {question.kind for question, _, _ in MADE.values()} == set(FIELDS)

    def test_is_empty_first_and_gives_back_what_it_was_given(self, made):
        field, first, second = made
        assert field.value == ""
        for text in (first, second, ""):
            field.value = text
            assert field.value == text

    def test_tells_one_change_for_each_setting(self, made):
        field, first, second = made
        told = heard(field)
        field.value = first
        field.value = second
        assert told == [first, second]

    def test_can_be_shut_and_opened(self, made):
        field, first, _ = made
        field.value = first
        for is_shut in (True, False):
            field.disabled = is_shut
            assert field.disabled is is_shut
            assert field.value == first

    def test_draws_where_its_kind_has_a_picture_and_only_there(self, made):
        field, _, _ = made
        assert hasattr(field, "draw") == (type(field) in [FIELDS[kind] for kind in PICTURED])


@pytest.mark.parametrize("name", PICKED)
@pytest.mark.parametrize("text", FOREIGN)
def test_a_foreign_text_does_no_harm(name, text):
    question, first, _ = MADE[name]
    field = field_for(question, "Your answer")
    field.value = text
    said = field.value
    allowed = {"A", "B", "C", "D", "1", "2", "3"}
    assert set(re.findall(r"\w+", said)) <= allowed
    field.value = first
    assert field.value == first


def click(field, box, value=True):
    box.value = value
    return field.value


class TestChoice:
    def test_one_of_them_is_chosen(self):
        field = field_for(*MADE["choice"][:1], "Your answer")
        assert [label for label, _ in field.list.options] == ["A. one", "B. two & three", "C. four"]
        told = heard(field)
        field.list.value = "B"
        field.list.value = "C"
        assert told == ["B", "C"]
        assert field.boxes == ()

    def test_several_are_ticked_and_taken_back(self):
        field = field_for(*MADE["several"][:1], "Your answer")
        told = heard(field)
        for box, value in ((2, True), (0, True), (2, False)):
            field.boxes[box].value = value
        assert told == ["C", "A, C", "A"]
        assert field.list is None


class TestOrder:
    @pytest.fixture
    def field(self):
        return field_for(MADE["order"][0], "Your answer")

    def texts(self, field):
        return [re.sub("<.*?>", "", text.value) for text in field._texts]

    def test_is_empty_until_the_first_move_although_steps_stand_there(self, field):
        assert field.value == ""
        assert self.texts(field) == ["1. Shut it. (A)", "2. Drain it (B)", "3. Read it (C)", "4. Fill it (D)"]
        field.later[0].click()
        assert field.value == "B, A, C, D"
        field.earlier[1].click()
        assert field.value == "A, B, C, D"  # moved back: now that is an answer

    def test_each_button_moves_its_own_row(self, field):
        told = heard(field)
        field.later[1].click()
        field.earlier[3].click()
        assert told == ["A, C, B, D", "A, C, D, B"]
        assert self.texts(field)[2] == "3. Fill it (D)"

    def test_both_ends_are_shut(self, field):
        assert [button.disabled for button in field.earlier] == [True, False, False, False]
        assert [button.disabled for button in field.later] == [False, False, False, True]
        field.disabled = True
        field.disabled = False
        assert [button.disabled for button in (*field.earlier, *field.later)].count(True) == 2

    def test_where_a_step_went_is_said(self, field):
        field.later[0].click()
        assert "Shut it: now step 2 of 4." in field._heard.value
        field.later[1].click()
        assert 'role="status"' in field._heard.value
        assert "Shut it: now step 3 of 4." in field._heard.value

    def test_the_focus_goes_with_the_step_and_never_to_a_shut_button(self, field):
        sent = []
        for name in ("earlier", "later"):
            for row, button in enumerate(getattr(field, name)):
                button.focus = lambda where=(name, row), button=button: sent.append((*where, button.disabled))
        field.later[2].click()  # to the last row, where "later" is shut
        field.earlier[3].click()
        field.earlier[1].click()  # to the first row, where "earlier" is shut
        assert sent == [("earlier", 3, False), ("earlier", 2, False), ("later", 0, False)]

    @pytest.mark.parametrize("text", ["A, B", "A, A, B, C", "A, B, C, D, E, D", "Z"])
    def test_half_an_order_is_no_order(self, field, text):
        field.value = text
        assert field.value == ""
        assert self.texts(field)[0] == "1. Shut it. (A)"


LOG = {"begins": 61200.0, "every": 300.0, "series": {"burner flow": [20.0, 61.5, None, 70.0], "store top": [40.0] * 4,
       "system pressure": [1.2, 1.31, 1.5, 1.6], "charge pump": [0, 1, 1, 0]}}  # fmt: skip


class TestTrace:
    @pytest.fixture
    def field(self):
        return field_for(MADE["trace"][0], "Your answer")

    def test_charts_are_drawn_with_their_tables(self, field):
        field.draw(lambda: LOG)
        assert len(field.charts) == 2
        assert all("<img" in chart.drawing.value for chart in field.charts)
        assert field.says.value == ""
        field.charts[0].table.button.click()
        field.charts[1].table.button.click()
        assert "burner flow" in field.charts[0].rows.value
        assert "1.31" in field.charts[1].rows.value
        assert len(field._easel.children) == 2

    def test_nothing_is_drawn_before_it_is_asked(self, field):
        assert field.charts == []

    def test_fault_and_test_are_told_as_they_come(self, field):
        told = heard(field)
        field.test.value = 2
        field.name.value = "C"
        assert told == ["2", "C, 2"]

    def test_a_real_day_is_simulated_and_drawn(self, exercises):
        field = field_for(MADE["trace"][0], "Your answer")
        picture = logged(exercises[kinds.ALL].parts["log"], "charge pump dead", 1)
        field.draw(lambda: json.loads(json.dumps(picture)))
        assert len(picture["series"]["store top"]) == 4 * 12 + 1
        assert next(iter(field.charts[0].picture.rows))[:3] == ("time", "burner flow", "burner return")
        assert len(field.charts) == 2


class TestSchematic:
    @pytest.fixture
    def field(self, exercises):
        from tlib.assessment.parts import schematic

        part = exercises[kinds.ALL].parts["spot"]
        field = field_for(schematic.show(part, str, (0,)), "Your answer")
        field.draw(lambda: json.loads(json.dumps(schematic.picture(part, (0,)))))
        return field

    def test_a_tick_draws_a_ring_and_is_said(self, field):
        before = field.drawing.drawing.value
        assert "Nothing is marked yet." in field.drawing.words.value
        told = heard(field)
        field.boxes[1].value = True
        once = field.drawing.drawing.value
        field.boxes[3].value = True
        assert told == ["2", "2, 4"]
        assert "Marked: 2, 4." in field.drawing.words.value
        assert (
            0
            < once.count("<circle") - before.count("<circle")
            == (field.drawing.drawing.value.count("<circle") - once.count("<circle"))
        )
        field.boxes[1].value = field.boxes[3].value = False
        assert field.drawing.drawing.value == before

    def test_its_table_names_every_spot(self, field):
        field.drawing.table.button.click()
        for number, box in enumerate(field.boxes, start=1):
            assert box.description.startswith(f"{number}. ")
            assert box.description.partition(" ")[2] in html.unescape(field.drawing.rows.value)

    def test_ticks_work_before_it_is_drawn(self, exercises):
        field = field_for(MADE["schematic"][0], "Your answer")
        field.boxes[0].value = True
        assert field.value == "1"


# --- practice, with a bank of the tests' own


@pytest.fixture(scope="module")
def exercises(tmp_path_factory):
    return bank.load(kinds.write_bank(tmp_path_factory.mktemp("kinds") / "bank"))


@pytest.fixture
def small_log(monkeypatch):
    monkeypatch.setattr(trace, "logged", kinds.told_log)


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.setenv("TLIB_ANSWERS", str(tmp_path / "laptop"))
    sitting = Sitting()
    sitting.begin("book-13")
    sitting.switch("17")
    yield sitting
    sitting.close()


def restarted(place):
    place.close()
    again = Sitting()
    again.begin("book-13")
    return again


def part(box, name):
    return next(part for part in box.parts if part.question.name == name)


def letter(question, says):
    return "ABCDEFGH"[next(place for place, thing in enumerate(question.things) if thing.startswith(says))]


def answers(box):
    """Return a right answer to each part that is shown, worked from what the page shows."""
    found = {}
    for one in box.parts:
        asked = one.question
        match asked.name:
            case "heat":
                numbers = box._task._values.numbers if hasattr(box._task, "_values") else box._task._set.numbers
                found["heat"] = f"{numbers['volume'] * numbers['rise'] * 1.163 / 1000:.4g} kWh"
            case "why":
                found["why"] = letter(asked, "Check")
            case "recharge":
                steps = ("Isolate", "Let", "Read", "Pump", "Open")
                found["recharge"] = ", ".join(letter(asked, step) for step in steps)
            case "log":
                fault = kinds.fault_in(asked.picture or box._task.picture("log"))
                test = {"charge pump dead": "Feel", "wet wood": "Measure"}[fault]
                where = next(at for at, says in enumerate(asked.tests, start=1) if says.startswith(test))
                found["log"] = f"{letter(asked, fault.capitalize())}, {where}"
            case "spot":
                said = {thing.lower(): at for at, thing in enumerate(asked.things, start=1)}
                found["spot"] = next(str(said[says]) for says in kinds.SPOTS if says in said)
            case "letter":
                found["letter"] = "Because the <water> grows."
            case "act":
                found["act"] = letter(asked, "Find")
            case "which":
                found["which"] = ", ".join(sorted(letter(asked, says) for says in ("The relief", "The heat-leak")))
    return found


def wrong(box, name):
    """Return an answer that is not right for a part."""
    right = answers(box)[name]
    match name:
        case "heat":
            return "1 kWh"
        case "why" | "act":
            return next(mark for mark in "ABC" if mark != right)
        case "recharge":
            return ", ".join(reversed(right.split(", ")))
        case "log":
            fault, test = right.split(", ")
            return f"{next(mark for mark in 'ABC' if mark != fault)}, {int(test) % 3 + 1}"
        case "spot":
            return str(int(right) % len(part(box, "spot").question.things) + 1)
        case "which":
            return next(mark for mark in "ABCD" if mark not in right)


def give(box, name, text):
    part(box, name).field.value = text
    part(box, name).check.click()
    return part(box, name).told.value


MARKED = ("why", "recharge", "log", "spot")


@pytest.mark.usefixtures("small_log")
class TestPractice:
    @pytest.fixture
    def box(self, place, exercises):
        box = ExerciseBox(exercises[kinds.ALL], place)
        box._draw()
        return box

    @pytest.mark.parametrize("name", MARKED)
    def test_a_right_answer_is_right_and_done(self, box, name):
        told = give(box, name, answers(box)[name])
        assert "<p>Right.</p>" in told
        marks = part(box, name).question.marks
        assert f"{marks} of {marks} mark" in told
        assert part(box, name).field.disabled
        assert "The right answer" not in told
        assert box.again.layout.display is None

    @pytest.mark.parametrize("name", MARKED)
    def test_a_first_wrong_answer_tells_no_answer(self, box, name):
        told = give(box, name, wrong(box, name))
        assert told
        assert "The right answer" not in told
        assert "Why: " not in told
        for says in ("A valve lifts", "It never gets hot", "It boils at once", "never stand in"):
            assert says not in told
        assert not part(box, name).field.disabled

    @pytest.mark.parametrize("name", MARKED)
    def test_after_two_wrong_ones_the_right_answer_is_told(self, box, name):
        right = answers(box)[name]
        give(box, name, wrong(box, name))
        told = give(box, name, wrong(box, name))
        assert f"The right answer: {right}." in told
        assert part(box, name).field.disabled
        assert part(box, name).check.layout.display == "none"
        if name != "log":
            assert "Why: " in told

    def test_a_slip_and_a_reason_are_told_for_what_was_chosen(self, box):
        asked = part(box, "why").question
        assert "This looks like: a new valve for an old cause." in give(box, "why", letter(asked, "Fit"))
        assert "It will not mend itself." in give(box, "why", letter(asked, "Wait"))

    @pytest.mark.parametrize("name", [*MARKED, "letter"])
    def test_no_answer_is_asked_for_again_and_costs_nothing(self, box, name):
        for _ in range(3):
            assert "There is no answer here yet." in give(box, name, "")
        assert not part(box, name).field.disabled
        assert part(box, name).wrong == 0

    def test_written_words_get_their_points_and_a_good_answer(self, box):
        told = give(box, "letter", "Because it <drips>.")
        assert "1 mark: a claim that fits" in told
        assert re.search(r"2 marks: a number, such as \d+ litres", told)
        assert re.search(r"A good answer: Because \d+ litres of water grows", told)
        assert "3 of them only a person can give." in box.total.value
        assert part(box, "letter").field.disabled

    def test_begun_anew_the_order_is_another(self, box):
        orders = {part(box, "recharge").question.things}
        give(box, "recharge", answers(box)["recharge"])
        for _ in range(4):
            box.again.click()
            orders.add(part(box, "recharge").question.things)
            assert part(box, "recharge").field.value == ""
            assert not part(box, "recharge").field.disabled
            assert part(box, "log").field.charts
        assert len(orders) > 1

    def test_the_button_to_begin_anew_says_what_is_new(self, place, exercises):
        assert ExerciseBox(exercises[kinds.ALL], place).again.description == "Try it with new numbers"
        assert ExerciseBox(exercises[kinds.SAFE], place).again.description == "Try it again, anew"

    def test_a_hint_is_given_and_said(self, box):
        hint = part(box, "why").hint
        assert hint.description == "Hint 1 of 1: free"
        hint.click()
        assert "Ask what lifted it." in part(box, "why").hints.value
        assert part(box, "recharge").hint.layout.display == "none"

    def test_a_picture_that_cannot_be_drawn_is_said_in_a_sentence(self, place, exercises, monkeypatch):
        monkeypatch.setattr(trace, "logged", lambda *_: 1 / 0)
        box = ExerciseBox(exercises[kinds.ALL], place)
        box._draw()
        said = part(box, "log").saved.value
        assert "The picture could not be drawn. You did nothing wrong. Show this line to your tutor: " in said
        assert part(box, "log").field.says.value == ""
        assert "ZeroDivisionError" in said
        part(box, "log").field.value = "A, 1"
        assert "Saved" in part(box, "log").saved.value
        assert "<svg" in part(box, "spot").field.drawing.drawing.value

    def test_every_part_is_there_again_after_a_restart_and_nothing_is_written(self, box, place, exercises):
        given = answers(box)
        for name, text in given.items():
            part(box, name).field.value = text
        part(box, "why").check.click()
        lines = len(place.events())
        again = ExerciseBox(exercises[kinds.ALL], restarted(place))
        again._draw()
        assert {one.question.name: one.field.value for one in again.parts} == given
        assert part(again, "why").told.value == part(box, "why").told.value
        assert part(again, "why").field.disabled
        assert f"Marked: {given['spot']}." in part(again, "spot").field.drawing.words.value
        time.sleep(0.6)  # what typing may leave for later would be written by now
        assert len(again._place.events()) == lines
        again._place.close()

    def test_one_change_is_one_line(self, box, place):
        for name, text in answers(box).items():
            part(box, name).field.value = text
        kept = [(event["part"], event["text"]) for event in place.events() if event["event"] == "answered"]
        assert kept == list(answers(box).items())

    def test_an_answer_that_is_too_long_is_said_not_lost_in_silence(self, box):
        part(box, "letter").field.value = "x" * 6000
        assert "This is NOT saved (an answer can have up to 5000 signs.)" in part(box, "letter").saved.value

    @pytest.mark.parametrize("text", FOREIGN)
    def test_a_book_with_a_foreign_text_still_opens(self, place, exercises, text):
        for name in ("why", "recharge", "log", "spot"):
            place.record("answered", exercise=kinds.ALL, part=name, text=text[:5000], unit="", attempt=1, version=2)
        box = ExerciseBox(exercises[kinds.ALL], place)
        assert give(box, "why", answers(box)["why"]).startswith('<div role="status"')


class TestSafety:
    @pytest.fixture
    def box(self, place, exercises):
        return ExerciseBox(exercises[kinds.SAFE], place)

    def test_a_safety_question_says_how_it_stands(self, box):
        assert "(1 mark, a safety question)" in box._body.children[1].children[0].value
        give(box, "which", answers(box)["which"])
        assert "Safety question" not in box.total.value  # not answered yet, and nothing is said against it
        give(box, "act", letter(part(box, "act").question, "Bridge"))
        assert GATE_SAYS["failed"] in box.total.value
        assert "This looks like: a cut-out bridged." in part(box, "act").told.value
        give(box, "act", answers(box)["act"])
        assert GATE_SAYS["passed"] in box.total.value

    def test_some_of_several_is_said_to_be_some(self, box):
        right = answers(box)["which"].split(", ")
        assert "Some of it is right." in give(box, "which", right[0])


# --- hand-outs

WORK = f"""\
format = 1
id = "kinds-work"
title = "Every kind"
class = "class.csv"
exercises = ["{kinds.ALL}", "{kinds.SAFE}"]
key = "a-key-for-the-tests-of-pages"
"""
AFTERWARDS = (
    "Q21", "Q20", "Q25", "Q22", "Q26", "N02", "A valve lifts for a reason", "It will not mend itself", "lets warm air",
    "It never gets hot", "It boils at once", "Pressure lifted it", "Water first, air second", "Nothing may shut it",
    "a claim that fits", "a number, such as", "of water grows", "It guards you", "It has no power", "Nor has this",
    "valve in the vent", "never stand in", "a-key-for-the-tests", "slip", "because", "rubric", "mistake",
)  # fmt: skip


PIXELS = re.compile(r'src="data:[^"]*"')


def set_for_class(folder, work=WORK, banks='bank = "our-exercises"\n'):
    kinds.write_bank(folder / "our-exercises")
    (folder / "class.csv").write_text("number,name\n17,Noor\n18,Gwil\n", encoding="utf-8")
    (folder / "work.toml").write_text(work + banks, encoding="utf-8")
    return setting.set_work(folder / "work.toml")


def everything(widget):
    """Yield every value of a widget and of all within it."""
    for value in widget.get_state().values():
        if isinstance(value, str):
            yield value
        elif isinstance(value, (list, tuple)):
            yield from (item for item in value if isinstance(item, str) and not item.startswith("IPY_MODEL"))
    for child in getattr(widget, "children", ()):
        yield from everything(child)


def sit(work, exercise=kinds.ALL, learner="17"):
    place = Sitting()
    place.begin(work.book)
    place.switch(learner)
    box = SetBox(work.folder / "hand-out" / work.book, exercise, place)
    box._draw()
    return place, box


@pytest.mark.usefixtures("small_log", "place")
class TestHandOut:
    def test_after_return_nothing_is_told_in_files_or_on_the_page(self, tmp_path, exercises):
        work = set_for_class(tmp_path / "tutor")
        handed = [path for path in (work.folder / "hand-out").rglob("*") if path.is_file()]
        assert {path.suffix for path in handed} >= {".json", ".txt"}
        told = {path.name: path.read_text(encoding="utf-8") for path in handed}
        slips = [f"{slip.feedback}" for slip in exercises[kinds.ALL].catalogue.values()]
        for exercise in (kinds.ALL, kinds.SAFE):
            place, box = sit(work, exercise)
            for name, text in answers(box).items():
                give(box, name, text)
                assert part(box, name).told.value == ""
                assert part(box, name).check.layout.display == "none"
            told[f"page of {exercise}"] = PIXELS.sub("", "\n".join(everything(box.widget)))
            assert box.says.value == ""
            place.close()
        for name, text in told.items():
            if name.startswith(("learner-", "page of")):
                found = [says for says in (*AFTERWARDS, *slips) if says in text]
                assert found == [], name

    def test_every_picture_is_drawn_from_the_paper_alone(self, tmp_path, monkeypatch):
        work = set_for_class(tmp_path / "tutor")
        monkeypatch.setattr(trace, "logged", lambda *_: pytest.fail("a learner's page simulates nothing"))
        place, box = sit(work)
        assert len(part(box, "log").field.charts) == 2
        assert "<svg" in part(box, "spot").field.drawing.drawing.value
        place.close()

    def test_orders_are_not_handed_out_with_their_solution(self, tmp_path):
        work = set_for_class(tmp_path / "tutor")
        papers = [json.loads(path.read_text(encoding="utf-8")) for path in (work.folder / "hand-out").rglob("l*.json")]
        assert len(papers) == 2
        for paper in papers:
            assert all(one["shown"] == {} for exercise in paper["exercises"] for one in exercise["sets"])

    def test_what_is_marked_is_what_the_page_showed(self, tmp_path):
        from tlib.assessment.set_marking import mark_set_work

        work = set_for_class(tmp_path / "tutor")
        for exercise in (kinds.ALL, kinds.SAFE):
            place, box = sit(work, exercise)
            for name, text in answers(box).items():
                part(box, name).field.value = text
            HandInBox(place).press.click()
            place.close()
        (script,) = mark_set_work(desk.folder() / "hand-in", work).scripts
        assert (script.earned, script.available, script.for_the_tutor) == (14, 17, 3)

    def test_at_once_work_tells_and_rebuilds_the_same_order(self, tmp_path, monkeypatch, exercises):
        from tlib.assessment import work as work_file

        bank_folder = kinds.write_bank(tmp_path / "open")
        monkeypatch.setattr(work_file, "shipped", lambda _: bank_folder)
        monkeypatch.setattr(sys.modules[SetBox.__module__], "_bank", lambda: exercises)
        work = set_for_class(tmp_path / "tutor", WORK + 'tells = "at once"\ntries = 2\n', "")
        for exercise in (kinds.ALL, kinds.SAFE):
            place, box = sit(work, exercise)
            for _ in range(2):
                for name, text in answers(box).items():
                    assert give(box, name, text)
                    if name != "letter":
                        assert "<p>Right.</p>" in part(box, name).told.value
                box.again.click()
            place.close()
