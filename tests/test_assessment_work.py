"""What a tutor's files must say before work is set: every fault by file, line and a sentence."""

import re

import pytest

from tlib.assessment import bank, setting
from tlib.assessment.class_list import Learner, read_class
from tlib.assessment.work import read_work
from tlib.documents import UnreadableDocument
from tlib.tables import shipped

from . import automated_class as school
from .set_work_files import WORK, write


def faults(path, read=read_work):
    with pytest.raises(UnreadableDocument) as caught:
        read(path)
    return [(fault.line, fault.key, fault.says) for fault in caught.value.faults]


# The class list.


@pytest.mark.parametrize(
    "text",
    [
        "number,name\n017,Noor\n18,Ottoline\n",
        "Name;Number\nNoor;17\n\n;;\nOttoline;18\n",
        "Group\tName\tLearner number\nA\tNoor\t17\nA\tOttoline\t18\n",
        'number, name\r\n17, "Noor"\r\n18,Ottoline\r\n',
    ],
)
def test_a_class_list_reads_in_any_order_with_commas_semicolons_or_tabs(tmp_path, text):
    path = tmp_path / "class.csv"
    path.write_text(text, encoding="utf-8-sig", newline="")
    assert read_class(path) == (Learner("17", "Noor"), Learner("18", "Ottoline"))


def test_extra_days_and_names_with_a_comma_are_kept(tmp_path):
    path = tmp_path / "class.csv"
    path.write_text('name,number,extra days\n"Fennimore, the elder",a-3,4\nImre,4,\n', encoding="utf-8")
    assert read_class(path) == (Learner("a-3", "Fennimore, the elder", 4), Learner("4", "Imre", 0))


def test_every_fault_of_a_class_list_is_told_by_its_line(tmp_path):
    path = tmp_path / "class.csv"
    path.write_text(
        "number,name,extra days\n17,Noor,\n,Gwil,\n017,Imre,\na/b,Ottoline,\n5,Bee,some\n", encoding="utf-8"
    )
    assert faults(path, read_class) == [
        (3, "number", "is missing for Gwil"),
        (4, "number", "17 stands on line 2 already"),
        (5, "number", "A learner number has up to 20 letters, figures or hyphens; got 'a/b'."),
        (6, "extra days", "must be a whole number up to 365; got 'some'"),
    ]


@pytest.mark.parametrize(
    ("data", "line", "says"),
    [
        (b"", 1, "holds nothing"),
        (b"number,name\n", 1, "names nobody"),
        (b"17,Noor\n", 1, "no column has this head"),
        (b"number,number,name\n1,2,Noor\n", 1, "is the head of two columns"),
        ("number,name\n1,Zoë\n".encode("cp1252"), 0, "choose Save as, CSV UTF-8"),
        ("number,name\n1,Zoë\n".encode("utf-16"), 0, "choose Save as, CSV UTF-8"),
        (b"number,name\n" + b'1,"' + b"a" * 200_000 + b'"\n', 2, "cannot be read: field larger"),
    ],
)
def test_what_is_no_class_list_is_refused(tmp_path, data, line, says):
    path = tmp_path / "class.csv"
    path.write_bytes(data)
    found = faults(path, read_class)
    assert found[0][0] == line
    assert says in found[0][2]


# The work file.


def test_every_key_is_held_to_its_meaning_by_line(tmp_path):
    path = write(tmp_path, WORK + 'tries = 4\nhints = true\ntells = "soon"\nshade = "blue"\nkey = "autumn"\n')
    found = {key: (line, says) for line, key, says in faults(path)}
    assert {key: line for key, (line, _) in found.items()} == {
        "tries": 6, "hints": 7, "tells": 8, "shade": 9, "key": 10,
    }  # fmt: skip
    assert "'after return' or 'at once'" in found["tells"][1]
    assert found["shade"][1] == "is not a key that is known here"


@pytest.mark.parametrize(
    ("line", "number", "says"),
    [
        ('id = "con"', 2, "a name that Windows keeps for itself"),
        ('id = "Autumn 1"', 2, "up to 40 small letters, figures and hyphens"),
        ('id = "book-04"', 2, "is kept for practice in the workbooks"),
        ('class = "other.csv"', 4, "there is no file 'other.csv' beside this one"),
        ('exercises = ["logs-tonight-1", "logs-tonight-1"]', 5, "'logs-tonight-1' is listed twice"),
        ("exercises = []", 5, "sets nothing; give the ids of exercises here, or outcomes under also"),
        ('bank = "mine"', 6, "there is no folder 'mine' beside this file"),
        ("closes = 2027-01-10", 7, "is 2027-01-10, before the work opens on 2027-01-11"),
        ("closes = 2027-02-30", 7, "cannot be read"),
    ],
)
def test_a_line_that_cannot_stand_is_refused(tmp_path, line, number, says):
    key = line.partition(" ")[0]
    text = WORK + "\nopens = 2027-01-11\n" * (key == "closes")
    known = [old for old in text.splitlines() if old.startswith(f"{key} =")]
    text = text.replace(known[0], line) if known else f"{text.rstrip()}\n{line}\n".replace("\n\n", "\n")
    lines = text.splitlines()
    found = faults(write(tmp_path, text))
    assert any(says in told for _, _, told in found), found
    assert found[0][0] == lines.index(line) + 1


def test_an_unknown_exercise_or_too_few_for_an_outcome_is_told_by_line(tmp_path):
    text = WORK.replace('"logs-tonight-1"', '"logs-tonight-1", "no-such-1"')
    path = write(tmp_path, text + 'also = [\n  { outcome = "firing.buffer-check" },\n  { outcome = "x.y" },\n]\n')
    found = faults(path, setting.set_work)
    assert [line for line, _, _ in found] == [5, 8]
    assert "no-such-1: is not the id of a sound exercise in the bank" in found[0][2]
    assert "0 more exercises for 'x.y' can be set; 1 are wanted" in found[1][2]
    assert not (tmp_path / "autumn-1").exists()


def test_an_exercise_that_tells_an_answer_or_has_few_values_does_not_count(tmp_path):
    path = school.write_work(tmp_path)
    own = tmp_path / "our-exercises" / f"{school.FIRST}.toml"
    telling = school.OWN_EXERCISE.replace("For how long do", "You found {heat}. For how long do")
    own.write_text(telling, encoding="utf-8")
    assert "prints the right answer of one question in another" in faults(path, setting.set_work)[0][2]
    few = re.sub(r"from = (150|70|38|5), .*?(?=unit)", r"choose = [\1], ", school.OWN_EXERCISE)
    own.write_text(few.replace("choose = [150]", "choose = [150, 300]"), encoding="utf-8")
    assert "gives 2 sets of values; work that counts wants 50" in faults(path, setting.set_work)[0][2]
    path.write_text(school.WORK + 'tells = "at once"\n', encoding="utf-8")
    assert "is not in the open bank, so a learner's page cannot mark it at once" in faults(path, setting.set_work)[0][2]
    own.write_text("format = 1\n", encoding="utf-8")
    with pytest.raises(UnreadableDocument, match=r"showers-1\.toml, line 1: id: is missing"):
        setting.set_work(path)


def test_outcomes_draw_the_same_exercises_for_the_whole_class_and_key(tmp_path):
    key = '\nkey = "twenty-signs-of-a-key"\n'
    text = WORK.replace('exercises = ["logs-tonight-1"]', 'also = [{ outcome = "firing.water-and-room" }]') + key
    chosen = [tuple(setting.set_work(write(tmp_path / name, text)).exercises) for name in "ab"]
    assert chosen[0] == chosen[1]
    assert bank.load()[chosen[0][0]].outcome == "firing.water-and-room"


def test_the_work_file_in_the_readme_can_be_set(tmp_path):
    text = (shipped("exercises") / "README.md").read_text(encoding="utf-8")
    example = next(block for block in re.findall(r"```toml\n(.*?)```", text, re.S) if "class =" in block)
    write(tmp_path, example)
    (tmp_path / "class.csv").rename(tmp_path / "evening-class.csv")
    (tmp_path / "our-exercises").mkdir()
    work = setting.set_work(tmp_path / "work.toml")
    assert (work.id, len(work.exercises), work.tries, work.hints) == ("autumn-1", 2, 1, 1)
