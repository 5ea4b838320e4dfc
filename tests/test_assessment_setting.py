"""Setting work: what is handed out, what must never be, and what the tutor keeps."""

import json
import re
import subprocess
import sys

import pytest

from tlib.assessment import bank, hand_out, kept_work, setting
from tlib.assessment.filling import figures
from tlib.assessment.formulary import KINDS
from tlib.assessment.own_values import attempt_key, draw

from . import automated_class as school
from .set_work_files import CLASS, WORK, write

# What is handed out.


@pytest.fixture(scope="module")
def class_work(tmp_path_factory):
    return setting.set_work(school.write_work(tmp_path_factory.mktemp("tutor")))


def handed_out(work):
    return {path: path.read_bytes() for path in (work.folder / "hand-out").rglob("*") if path.is_file()}


def test_the_hand_out_holds_what_a_learner_needs(class_work):
    paper = hand_out.read_paper(class_work.folder / "hand-out" / class_work.book, "7")
    assert (paper.learner, paper.title, paper.closes) == ("7", "Stored heat and the evening fire", "2027-01-25")
    for exercise in paper.exercises:
        values = draw(class_work.exercises[exercise.id], "7", attempt_key(school.KEY, 1))
        (given,) = exercise.sets
        assert dict(given.numbers) == dict(values.numbers)
        assert all(f"{number:g}" in given.question.story for number in given.numbers.values())
        assert [part.name for part in given.question.parts] == list(class_work.exercises[exercise.id].parts)
    text = next(data for path, data in handed_out(class_work).items() if path.name == "learner-7.txt").decode()
    assert "(b) At most how many kilos of logs may be burnt tonight? (4 marks)" in text
    assert not re.search(r"\d\s*\n\s*(%|kWh|kW|litres|°C)", text)  # no number is parted from its unit


def test_the_hand_out_holds_nothing_that_leads_to_the_answers(class_work):
    """Search every byte for the key, the sums, the slips, the tolerances, the workings and the right answers."""
    everything = "\n".join(data.decode("utf-8-sig") for data in handed_out(class_work).values())
    forbidden = {school.KEY, "because", "working", "slip", "answer =", *KINDS, *bank.load().slips}
    forbidden -= {"min", "max", "mean", "when"}  # everyday words
    for exercise in class_work.exercises.values():
        forbidden |= {slip.feedback for slip in exercise.catalogue.values()}
        for part in exercise.part:
            sums = {part.answer.text, *(slip.value.text for slip in part.slips)}
            forbidden |= {text for text in sums if not text.isidentifier()}  # a bare name is no sum
            forbidden |= {part.working.strip()[:30], part.within.because}
    for words in forbidden:
        assert words not in everything, words
    assert not re.search(r"\b[NQT]\d{2,3}\b", everything)
    assert not [name for name in school.NAMES.values() if name in everything]  # learners' names stay with the tutor


def test_no_paper_shows_a_right_answer_of_anybody(class_work):
    files = handed_out(class_work).items()
    papers = {path: data.decode("utf-8-sig") for path, data in files if "learner-" in path.name}
    for path, text in papers.items():
        number = path.stem.removeprefix("learner-")
        for exercise in class_work.exercises.values():
            values = draw(exercise, number, attempt_key(school.KEY, 1))
            given = {figures(value, count) for value in values.numbers.values() for count in (3, 4, 5)}
            given |= {f"{value:g}" for value in values.numbers.values()}
            answers = {figures(value, count) for value in values.right.values() for count in (3, 4, 5)} - given
            tokens = set(re.findall(r"\d+(?:[.,]\d+)?", text))
            assert not answers & tokens, (path.name, answers & tokens)


def test_a_hint_is_handed_out_only_where_allowed_and_never_one_that_tells_an_answer(tmp_path):
    for allowed, counts in ((0, [0, 0, 0]), (2, [2, 2, 2]), (3, [3, 3, 2])):
        work = setting.set_work(write(tmp_path / str(allowed), f"{WORK}hints = {allowed}\n"))
        paper = hand_out.read_paper(work.folder / "hand-out" / work.book, "17")
        assert [len(part.hints) for part in paper.exercises[0].sets[0].question.parts] == counts
        texts = [data.decode("utf-8-sig") for path, data in handed_out(work).items() if path.suffix == ".txt"]
        assert not [text for text in texts if "Hint" in text]


def test_the_page_is_a_notebook_without_numbers_or_loose_code(class_work):
    page = json.loads((class_work.folder / "hand-out" / f"{class_work.book}.ipynb").read_text(encoding="utf-8"))
    sources = ["".join(cell["source"]) for cell in page["cells"] if cell["cell_type"] == "code"]
    assert sources[0].splitlines()[-1] == f'panels.set_work("{class_work.book}")'
    assert f'panels.set_exercise("{class_work.book}", "{school.SECOND}")' in sources
    assert sources[-3:] == ['panels.caution("01")', 'panels.caution("04")', "panels.hand_in()"]
    assert all(cell["metadata"]["jupyter"]["source_hidden"] for cell in page["cells"] if cell["cell_type"] == "code")
    assert page["metadata"]["tlib"]["workbook"]


def test_no_name_in_the_folder_is_one_that_windows_refuses(class_work):
    names = [path.relative_to(class_work.folder) for path in class_work.folder.rglob("*")]
    assert all(re.fullmatch(r"[a-z0-9][a-z0-9. -]*[a-z0-9]", part) for path in names for part in path.parts)
    assert len({str(path).lower() for path in names}) == len(names)


@pytest.mark.parametrize("harm", ["cut", "edit", "other", "empty", "gone"])
def test_a_paper_that_came_to_harm_is_not_used(tmp_path, harm):
    work = setting.set_work(write(tmp_path))
    folder = work.folder / "hand-out" / work.book
    path = folder / "learner-17.json"
    text = path.read_text(encoding="utf-8")
    new = {"cut": text[:500], "edit": re.sub(r'"volume": \d', '"volume": 9', text), "empty": "",
           "other": (folder / "learner-18.json").read_text(encoding="utf-8")}.get(harm)  # fmt: skip
    path.unlink()
    if new is not None:
        path.write_text(new, encoding="utf-8")
    says = {"gone": "There is no paper here for learner 17", "other": "the paper of another learner"}
    with pytest.raises(hand_out.BadPaper, match=says.get(harm, "is not as your tutor made it")):
        hand_out.read_paper(folder, "17")


# The private half, and setting once more.


def test_the_private_half_gives_the_work_back(class_work):
    again = kept_work.load(class_work.folder)
    assert again == class_work
    assert kept_work.find(class_work.folder / "hand-ins") == class_work.folder
    assert kept_work.find(class_work.folder / "private") == class_work.folder
    assert kept_work.find(class_work.folder.parent.parent) is None
    key = (class_work.folder / "private" / "answer-key.csv").read_text(encoding="utf-8-sig").splitlines()
    assert len(key) == 1 + 24 * 5


def test_a_key_of_its_own_is_made_for_each_class(tmp_path):
    one, other = (setting.set_work(write(tmp_path / name)) for name in "ab")
    assert len(one.key) == 32
    assert one.key != other.key
    assert one.book != other.book


def test_setting_again_keeps_every_value_and_takes_in_who_came_late(tmp_path):
    before = setting.set_work(write(tmp_path))
    held = handed_out(before)
    after = setting.set_work(write(tmp_path, WORK + "closes = 2027-02-01\n", CLASS + "19,Bee\n"))
    assert (after.key, after.hand_out, list(after.learners)) == (before.key, before.hand_out, ["17", "18", "19"])
    now = handed_out(after)
    assert len(now) == len(held) + 2
    numbers = [hand_out.read_paper(after.folder / "hand-out" / after.book, "17").exercises for _ in range(2)]
    assert numbers[0] == numbers[1]
    old = next(data for path, data in held.items() if path.name == "learner-17.json")
    assert json.loads(old)["exercises"] == json.loads(
        (after.folder / "hand-out" / after.book / "learner-17.json").read_text(encoding="utf-8")
    )["exercises"]  # fmt: skip


def test_what_learners_may_hold_already_cannot_change(tmp_path):
    setting.set_work(write(tmp_path))
    text = WORK.replace("logs-tonight-1", "logs-to-water-1") + "tries = 2\n"
    with pytest.raises(setting.AlreadySet, match="these have changed since: exercises, tries"):
        setting.set_work(write(tmp_path, text))


def test_a_later_version_of_an_exercise_does_not_change_work_that_is_set(tmp_path):
    path = school.write_work(tmp_path)
    setting.set_work(path)
    own = tmp_path / "our-exercises" / f"{school.FIRST}.toml"
    own.write_text(school.OWN_EXERCISE.replace("version = 3", "version = 4"), encoding="utf-8")
    assert setting.set_work(path).exercises[school.FIRST].version == 3


def test_a_damaged_private_half_is_said(tmp_path):
    work = setting.set_work(write(tmp_path))
    file = work.folder / "private" / "open-exercises" / "logs-tonight-1.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("version = 1", "version = 2"), encoding="utf-8")
    with pytest.raises(kept_work.NoSetWork, match="lacks version 1 of logs-tonight-1, as it was set"):
        kept_work.load(work.folder)
    (work.folder / "private" / "set-work.json").write_text("{", encoding="utf-8")
    with pytest.raises(kept_work.NoSetWork, match="cannot be read"):
        kept_work.load(work.folder)
    with pytest.raises(kept_work.NoSetWork, match="holds no work that was set"):
        kept_work.load(tmp_path)


# The floor below: nothing of the screen or of the engine.


def test_assessment_loads_neither_screen_nor_engine():
    """Setting and marking from the bank load no picture, widget, compiler or property library.

    Days that a logger kept are read as conditions of a run, so the simulation's own files are; nothing is run.
    """
    code = """
import sys
from tlib.assessment import Answer, bank, draw, mark, setting, set_marking
for name in ("logs-tonight-1", "buffer-check-1"):
    exercise = bank.load()[name]
    mark(exercise, draw(exercise, 17, "k"), {part: Answer("15 kWh") for part in exercise.parts})
heavy = {"CoolProp", "numba", "matplotlib", "ipywidgets", "pvlib", "jupyterlab", "pandas"}
ours = ("tlib.figures", "tlib.panels", "tlib.papers", "tlib.lab")
print(sorted(name for name in sys.modules if name.split(".")[0] in heavy or name.startswith(ours)))
"""
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert printed.strip() == "[]"
