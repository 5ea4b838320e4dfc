"""Exercise files: every fault is named by file and line; the shipped ones are sound; own values can be rebuilt."""

import hashlib
import string
import subprocess
import sys
from pathlib import Path

import pytest

from tlib.assessment import bank, draw, question
from tlib.assessment.catalogue import read_slips
from tlib.assessment.checker import check
from tlib.assessment.filling import answer_printed, figures
from tlib.assessment.own_values import NoDraw, attempt_key, separable, values_of
from tlib.assessment.wording import working
from tlib.documents import UnreadableDocument
from tlib.tables import shipped

BANK = bank.load()
SOUND = """format = 1
id = "sound-1"
version = 1
workbook = "04"
outcome = "firing.logs-tonight"
level = 1
site = "larkrigg"
written_by = "a test"
references = ["NIST SP 811"]
story = "{site} has a store of {volume}. It warms by {rise}."

[given]
volume = { from = 200, to = 400, step = 20, unit = "litre" }
rise = { choose = [20, 30, 40], unit = "K" }

[[part]]
name = "heat"
kind = "number"
ask = "How much heat?"
answer = "stored_heat(volume, rise)"
unit = "kWh"
within = { relative = 0.03, because = "a fair choice of constants" }
slips = [
    { code = "N01", value = "heat * 3.6" },
    { code = "N02", value = "heat * 1000" },
]
hints = ["It warms by {rise}."]
working = "{volume} × {rise} × 1.163 = {heat}."
"""


@pytest.fixture
def checked(tmp_path):
    """Return a function from the text of one exercise to the faults that the checker prints."""

    def run(text):
        (tmp_path / "one.toml").write_text(text, encoding="utf-8")
        return [str(fault) for fault in check(tmp_path).faults]

    return run


def test_the_shipped_exercises_are_sound():
    report = check(shipped("exercises"))
    assert [str(fault) for fault in report.faults] == []
    assert report.sound
    assert all(one.for_assignments for one in report.exercises)
    assert {one.id for one in report.exercises} == set(BANK)


def test_a_sound_file_has_no_fault(checked):
    assert checked(SOUND) == []


# (what is changed, to what, on which line the checker must point, what it must say)
ANSWER = 'answer = "stored_heat(volume, rise)"'
FAULTS = [
    (ANSWER, 'answer = "stored_heat(volum, rise)"', 20, "names 'volum', which is neither"),
    (ANSWER, 'answer = "volume * rise * 1.163"', 20, "gives something in m3 K, but the unit 'kWh'"),
    (ANSWER, 'answer = "stored_heat(rise, volume)"', 20, "wants a volume for volume"),
    (ANSWER, 'answer = "heat_of(volume)"', 20, "calls 'heat_of', which is not in the formulary"),
    (ANSWER, 'answer = "heat"', 20, "names the part 'heat', which does not come earlier"),
    (ANSWER, 'answer = "stored_heat"', 20, "without its brackets"),
    (ANSWER, 'answer = "open(volume).read"', 20, "a formula is arithmetic only"),
    ('unit = "kWh"', 'unit = "kW"', 20, "gives an amount of heat, but the unit 'kW' measures a power"),
    ('unit = "kWh"', 'unit = "furlong"', 21, "'furlong' is not a unit that exercises use"),
    (', because = "a fair choice of constants"', "", 22, "within.because: is missing"),
    ("relative = 0.03", "relative = 3", 22, "less than or equal to 0.5"),
    ("relative = 0.03, ", "", 22, "give relative, absolute or exact = true"),
    ("relative = 0.03", "relative = 0.03, exact = true", 22, "exact stands alone"),
    ('code = "N02"', 'code = "N99"', 25, "N99 is not in the catalogue"),
    ('"heat * 1000"', '"heat * 1.01"', 25, "N02 lies within 3 tolerances of the right answer in 33 of 33"),
    ('"heat * 1000"', '"heat * 1.2", near = "right"', 25, 'N02 is near = "right" but lies outside the tolerance'),
    ('"heat * 1000"', '"heat * later"', 25, "names 'later', which is neither"),
    ('references = ["NIST SP 811"]', "references = []", 9, "names no reference"),
    ('references = ["NIST SP 811"]', 'references = ["a book"]', 9, "does not begin with a key of the bibliography"),
    ('outcome = "firing.logs-tonight"', 'outcome = "firing.dreams"', 5, "is not in outcomes.toml"),
    ("It warms by {rise}.\"\n", 'It warms."\n', 10, "does not name {rise}; a learner cannot know it"),
    ("{site} has", "{place} has", 10, "leaves room for {place}"),
    ("{site} has", "{site has", 10, "a curly bracket stands alone"),
    ('hints = ["It warms by {rise}."]', 'hints = ["It is {heat}."]', 27, "leaves room for {heat}"),
    ('kind = "number"', 'kind = "essay"', 16, "kind 'essay' is not a kind that can be marked; the kinds are"),
    ("[given]\n", '[given]\nspare = { value = 3, unit = "m" }\n', 13, "is never used in a formula"),
    ("choose = [20, 30, 40]", "choose = [20], value = 3", 14, "give value, or choose, or from with to and step"),
    ("step = 20", "step = 30", 13, "from must reach to in whole steps"),
    ("step = 20", "step = 0.0001", 13, "at most 400 values"),
    ("from = 200, to = 400, step = 20", "value = nan", 13, "finite number"),
    ("from = 200, to = 400, step = 20", "value = 1e300", 13, "less than or equal to 1000000000"),
    ("from = 200, to = 400, step = 20", "value = 300", 12, "gives 3 sets of values; at least 20 are wanted"),
    ('name = "heat"', 'name = "volume"', 17, "'volume' is already the name of something else"),
    ('name = "heat"', 'name = "min"', 17, "'min' is a function of the formulary"),
    ('name = "heat"', 'name = "hеat"', 17, "should match pattern"),  # a Cyrillic letter
    ("level = 1", "level = 9", 6, "less than or equal to 3"),
    ("version = 1", 'version = "1"', 3, "valid integer"),
    ('site = "larkrigg"', 'site = "elsewhere"', 7, "'larkrigg', 'quillbeck' or 'tansy'"),
    ('written_by = "a test"\n', "", 1, "written_by: is missing"),
    ("level = 1", "level = 1\nstars = 3", 7, "is not a key that is known here"),
    ("level = 1", "level = ", 6, "layout"),
    ('unit = "kWh"', 'unit = "kWh"\nmarks = { accuracy = 1 }', 22, "an accuracy mark needs a method mark"),
    ('unit = "kWh"', 'unit = "kWh"\nmarks = { method = 0 }', 22, "at least one mark"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "line", "says"), FAULTS, ids=range(len(FAULTS)))
def test_each_fault_is_named_with_its_line(checked, old, new, line, says):
    assert old in SOUND
    faults = checked(SOUND.replace(old, new))
    assert [fault for fault in faults if f"one.toml, line {line}: " in fault and says in fault], faults


def test_load_refuses_a_folder_with_a_fault_and_lists_every_one(tmp_path):
    (tmp_path / "one.toml").write_text(SOUND.replace("kWh", "kW"), encoding="utf-8")
    (tmp_path / "two.toml").write_text(SOUND.replace("volume, rise", "rise"), encoding="utf-8")
    with pytest.raises(UnreadableDocument, match=r"one\.toml, line 20(.|\n)*two\.toml, line 20"):
        bank.load(tmp_path)


def test_two_files_with_one_id_are_refused(tmp_path):
    for name in ("one.toml", "two.toml"):
        (tmp_path / name).write_text(SOUND, encoding="utf-8")
    with pytest.raises(UnreadableDocument, match=r"two\.toml, line 2: id: 'sound-1' is already the id of .*one\.toml"):
        bank.load(tmp_path)


def test_parts_cannot_run_in_a_circle(checked):
    second = SOUND[SOUND.index("[[part]]") :].replace('"heat"', '"more"').replace("stored_heat(volume, rise)", "heat")
    second = second.replace("heat * ", "more * ").replace("{heat}", "{more}")
    assert checked(SOUND + second) == []
    circle = (SOUND + second).replace('answer = "stored_heat(volume, rise)"', 'answer = "more"')
    assert any("names the part 'more', which does not come earlier" in fault for fault in checked(circle))


HOSTILE = {
    "deep arrays": "a = " + "[" * 30_000,
    "deep tables": SOUND + "".join(f"[{'.'.join('a' * n)}]\n" for n in range(1, 200)),
    "long dotted key": ".".join("a" * 20_000) + " = 1",
    "long dotted keys": "\n".join(f"{letter}{'.a' * 240} = 1" for letter in string.ascii_letters * 2),
    "far too large": SOUND + "#" * 100_000,
    "many parts": SOUND + SOUND[SOUND.index("[[part]]") :] * 60,
    "no text": "\x00\x01",
    "a tower of powers": SOUND.replace("stored_heat(volume, rise)", "9 ** 9 ** 9 ** 9 ** 9"),
    "many values": SOUND.replace("choose = [20, 30, 40]", f"choose = [{', '.join('3' * 5000)}]"),
}


@pytest.mark.parametrize("what", HOSTILE)
def test_hostile_files_are_refused(checked, what):
    assert checked(HOSTILE[what])


def test_a_file_that_is_not_utf8_is_refused(tmp_path):
    (tmp_path / "one.toml").write_bytes(b'story = "\xff"')
    assert "is not text in UTF-8" in str(check(tmp_path).faults[0])


def test_a_broken_catalogue_is_told(tmp_path):
    (tmp_path / "slips.toml").write_text('format = 1\n[slip.N01]\ntopic = "heat"\nmethod = "some"\n', encoding="utf-8")
    says = "\n".join(map(str, check(tmp_path).faults))
    assert "slip.N01.idea: is missing" in says
    assert "'all', 'all but one' or 'none'" in says


def test_a_bank_cannot_be_changed():
    with pytest.raises(AttributeError, match="cannot be changed"):
        BANK.slips = {}
    with pytest.raises(TypeError):
        BANK["new"] = None
    exercise = BANK["logs-tonight-1"]
    with pytest.raises(ValueError, match="frozen"):
        exercise.version = 2
    with pytest.raises(TypeError):
        exercise.given["more"] = None


def test_the_catalogue_holds_all_81_numbers_and_28_choices_once():
    slips = read_slips(shipped("exercises") / "slips.toml")
    assert list(slips) == [f"N{n:02}" for n in range(1, 82)] + [f"Q{n:02}" for n in range(1, 29)]
    assert len({slip.idea for slip in slips.values()}) > 100
    for slip in slips.values():
        assert slip.feedback.endswith((".", "?"))
        assert "you did" not in slip.feedback.lower()
        assert all(len(sentence.split()) <= 25 for sentence in slip.feedback.split(". "))


# Own values.


def test_a_draw_follows_the_rule_that_is_written_down():
    """Worked again here with hashlib alone, from the words of `draw`'s notes."""
    exercise = BANK["logs-tonight-1"]
    for learner in ("17", "3", "class-b-9"):
        for attempt in range(50):
            numbers = {}
            for name, given in exercise.given.items():
                words = ("own values", "autumn-1", learner, exercise.id, "1", str(attempt), name)
                text = "".join(f"{len(word)}:{word}," for word in words)
                whole = int(hashlib.sha256(text.encode()).hexdigest(), 16)
                numbers[name] = given.values[whole % len(given.values)]
            if separable(exercise, numbers):
                break
        assert dict(draw(exercise, learner, "autumn-1").numbers) == numbers


GOLDEN = {  # these papers are out in the world: a change here breaks every paper that was printed
    ("logs-tonight-1", 17, "practice-1"): {
        "volume": 350.0,
        "start": 54.0,
        "limit": 85.0,
        "moisture": 23.0,
        "efficiency": 70.0,
        "share": 55.0,
        "power": 9.0,
    },
    ("logs-tonight-1", 17, "practice-2"): {
        "volume": 300.0,
        "start": 56.0,
        "limit": 80.0,
        "moisture": 19.0,
        "efficiency": 70.0,
        "share": 55.0,
        "power": 13.0,
    },
    ("logs-to-water-1", 3, "autumn-1-1"): {
        "logs": 7.5,
        "moisture": 21.0,
        "efficiency": 75.0,
        "share": 65.0,
        "wet": 44.0,
    },
    ("buffer-check-1", 24, "workbook-04-1"): {
        "burn_time": 3.0,
        "rated": 12.0,
        "turn_down": 5.0,
        "house": 6.0,
        "drop": 45.0,
    },
}


def test_papers_once_given_out_are_rebuilt_for_ever():
    for (name, learner, key), numbers in GOLDEN.items():
        assert dict(draw(BANK[name], learner, key).numbers) == numbers


def test_number_text_and_leading_noughts_are_one_learner_and_all_else_is_another():
    exercise = BANK["logs-tonight-1"]
    first = draw(exercise, 17, "a-1")
    assert first == draw(exercise, " 017 ", "a-1")
    others = [
        draw(exercise, 18, "a-1"),
        draw(exercise, 17, "a-2"),
        draw(exercise, 17, "b-1"),
        draw(exercise, 1, "7a-1"),
    ]
    assert all(other.numbers != first.numbers for other in others)


def test_every_value_of_a_ladder_is_exact_and_printed_as_written():
    given = BANK["logs-to-water-1"].given["logs"]
    assert given.values == (5, 5.5, 6, 6.5, 7, 7.5, 8, 8.5, 9, 9.5, 10, 10.5, 11, 11.5, 12)


def test_a_class_of_24_gets_24_papers():
    papers = {tuple(draw(BANK["logs-tonight-1"], learner, "autumn-1").numbers.items()) for learner in range(24)}
    assert len(papers) == 24


def test_an_exercise_that_cannot_be_drawn_says_so(tmp_path):
    text = SOUND.replace('"heat * 1000"', '"heat * 1.01"')
    (tmp_path / "one.toml").write_text(text, encoding="utf-8")
    exercise = bank.load(tmp_path)["sound-1"]
    with pytest.raises(NoDraw, match="sound-1 gives no set of values"):
        draw(exercise, 1, "a-1")


def test_needs_leave_out_what_makes_no_sense(tmp_path):
    text = SOUND.replace("\n[given]", 'needs = ["rise > 25", "heat < 10"]\n\n[given]')
    (tmp_path / "one.toml").write_text(text, encoding="utf-8")
    exercise = bank.load(tmp_path)["sound-1"]
    for learner in range(40):
        values = draw(exercise, learner, "a-1")
        assert values.numbers["rise"] > 25
        assert values.right["heat"] < 10


def test_attempt_keys_end_in_the_number_of_the_try():
    assert attempt_key("autumn-1", 3) == "autumn-1-3"


# Words.


def test_a_learner_sees_numbers_and_no_formula_answer_or_slip():
    exercise = BANK["logs-tonight-1"]
    numbers = {"volume": 300, "start": 50, "limit": 85, "moisture": 20, "efficiency": 75, "share": 65, "power": 11}
    asked = question(exercise, values_of(exercise, numbers))
    assert "Larkrigg Farm. The store holds 300 litres, all of it at 50 °C. It must not pass 85 °C" in asked.story
    assert [part.name for part in asked.parts] == ["headroom", "kilos", "hours"]
    assert asked.parts[0].hints[2] == "The rise is 35 K."
    shown = asked.story + "".join(part.ask for part in asked.parts)
    for secret in ("12.2", "6.13", "1.11", "stored_heat", "N01", "{", "}"):
        assert secret not in shown


@pytest.mark.parametrize("name", BANK)
def test_what_a_learner_reads_is_short(name):
    """Sentences of at most 25 words, as the course asks; what is left of a sum is not counted."""
    exercise = BANK[name]
    asked = question(exercise, draw(exercise, 1, "words"))
    texts = [asked.story, *(part.ask for part in asked.parts), *(hint for part in asked.parts for hint in part.hints)]
    sentences = [sentence for text in texts for sentence in text.replace("?", ".").split(". ") if "×" not in sentence]
    assert max(len(sentence.split()) for sentence in sentences) <= 25


def test_a_working_shows_the_learners_own_numbers():
    exercise = BANK["logs-tonight-1"]
    numbers = {"volume": 300, "start": 50, "limit": 85, "moisture": 20, "efficiency": 75, "share": 65, "power": 11}
    values = values_of(exercise, numbers)
    assert working(exercise.part[0], exercise, values) == "300 litres × 35 K × 1.163 Wh ÷ 1000 = 12.2 kWh."
    assert answer_printed(exercise.part[1], values.right["kilos"]) == "6.13 kg"


@pytest.mark.parametrize(
    ("number", "count", "text"),
    [
        (13.956, 3, "14.0"),
        (0.0738, 3, "0.0738"),
        (999.9, 3, "1,000"),
        (12_851, 3, "12,850"),
        (-323.274, 3, "-323"),
        (0.0, 3, "0.00"),
    ],
)
def test_figures(number, count, text):
    assert figures(number, count) == text


def test_reading_the_bank_loads_nothing_heavy_and_no_screen():
    """Marking needs no screen, no compiler and no fluid library; sites are read, to check logged days and drawings."""
    code = (
        "import sys, tlib.assessment as a, tlib.papers.mark_sheet; a.bank.load();"
        "heavy = {'matplotlib', 'ipywidgets', 'IPython', 'CoolProp', 'numba', 'pvlib'};"
        "heavy |= {'tlib.figures', 'tlib.panels', 'jinja2'};"
        "print(sorted(m for m in sys.modules if m in heavy))"
    )
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert printed.strip() == "[]"


def test_the_places_of_the_stories_are_those_of_the_workbooks():
    import tomllib

    from tlib.assessment.exercises import SITES

    for path in (shipped("workbooks") / "sites").glob("*.toml"):
        assert tomllib.loads(path.read_text(encoding="utf-8"))["name"] == SITES[path.stem]


def test_the_readme_names_every_unit_and_every_function():
    from tlib.assessment.formulary import KINDS
    from tlib.assessment.quantities import UNITS

    text = Path(shipped("exercises") / "README.md").read_text(encoding="utf-8")
    flat = " ".join(text.split())
    assert [unit for unit in UNITS if f" {unit}," not in flat and f" {unit}." not in flat] == []
    assert [name for name in KINDS if f"`{name}(" not in flat] == []
