"""Exercise files that were written to do harm, or by accident: each is refused in words, within a second.

Nothing in a file is ever executed, so the harm would be time, memory, or a learner who is marked by a wrong key.
"""

import time

import pytest

from tlib.assessment.checker import check

from . import kinds_files

HEAD = """\
format = 1
id = "hostile-1"
version = 1
workbook = "01"
outcome = "heat.stored-heat"
level = 1
site = "larkrigg"
written_by = "a test"
references = ["NIST SP 811"]
story = "{site} has {volume}. It warms by {rise}."

[given]
volume = { from = 200, to = 400, step = 20, unit = "litre" }
rise = { choose = [20, 30, 40], unit = "K" }
"""
PART = """
[[part]]
name = "heat"
kind = "number"
ask = "How much heat?"
answer = "stored_heat(volume, rise)"
unit = "kWh"
within = { relative = 0.03, because = "a fair choice of constants" }
slips = [{ code = "N02", value = "heat * 1000" }]
"""
SOUND = HEAD + PART


@pytest.fixture
def said(tmp_path):
    """Return a function from a file's text to the checker's faults, which must come within a second of work."""

    def read(text):
        (tmp_path / "one.toml").write_text(text, encoding="utf-8", newline="")
        began = time.process_time()
        faults = [str(fault) for fault in check(tmp_path).faults]
        assert time.process_time() - began < 1
        return faults

    return read


def test_the_file_from_which_these_are_made_is_sound(said):
    assert said(SOUND) == []


def answering(formula):
    return SOUND.replace("stored_heat(volume, rise)", formula)


def slipping(formula):
    return SOUND.replace("heat * 1000", formula)


DEEP = [
    (answering("(" * 120 + "heat" + ")" * 120), "names the part 'heat'"),  # brackets alone are no steps
    (answering("(" * 140 + "1" + ")" * 139), "this is not a formula that can be read"),
    (answering("-" * 290 + "1"), "at most 20 steps deep"),
    (answering("min(" * 50 + "rise" + ")" * 50), "at most 20 steps deep"),
    (answering("when(1 < 2, " * 22 + "1" + ", 2)" * 22), "signs"),
    (slipping("*".join(["heat"] * 50)), "at most 20 steps deep"),
    (slipping("heat" + " ** 1" * 50), "at most 20 steps deep"),
    (answering("[" * 200), "this is not a formula that can be read"),
    (SOUND + "deep = " + "[" * 450, "layout"),
    (SOUND + "deep = " + "[\n" * 20_000, "layout"),
    (SOUND + "deep = " + "{ a = " * 80, "layout"),
    (SOUND + "".join(f"[{'.'.join('a' * n)}]\n" for n in range(1, 240)), "is not a key that is known here"),
    (SOUND.replace("{volume}", "{" * 300), "a curly bracket stands alone"),
    (SOUND.replace("{volume}", "{= " + "(" * 200 + "}"), "this is not a formula that can be read"),
    (SOUND.replace("{volume}", "{= " + "1 + " * 70 + "1}"), "at most 20 steps deep"),
]
HUGE = [
    (answering("9" * 290), "a number in a formula is at most 1e12"),
    (answering("1e400"), "a number in a formula is at most 1e12"),
    (answering("0x" + "f" * 200), "a number in a formula is at most 1e12"),
    (answering("stored_heat(volume, rise) ** 99999999"), "a power in a formula is at most 9"),
    (answering("volume ** 9.5"), "a power in a formula is at most 9"),
    (answering("stored_heat(volume, rise) * 9 ** (9 * 9 * 9 * 9)"), "has no value for some numbers"),
    (answering("stored_heat(volume, rise) * 9 ** 9 ** 9 ** 9 ** 9"), "has no value for some numbers"),
    (answering("stored_heat(volume, rise) / (1 - 1)"), "has no value for some numbers"),
    (slipping("heat * 9 ** (9 ** 9)"), "N02 lies within 3 tolerances"),  # no value is told apart from nothing
    (SOUND.replace("to = 400, step = 20", "to = 1e9, step = 1e-9"), "at most 400 values"),
    (SOUND.replace("to = 400, step = 20", "to = 400, step = 5e-324"), "at most 400 values"),
    (SOUND.replace("to = 400, step = 20", "to = 1e308, step = 1e-308"), "less than or equal to 1000000000"),
    (SOUND.replace("to = 400, step = 20", "to = inf, step = 20"), "finite number"),
    (SOUND.replace("[20, 30, 40]", "[nan, 30, 40]"), "finite number"),
    (SOUND.replace("[20, 30, 40]", "[20, 1" + "0" * 300 + "]"), "less than or equal to 1000000000"),
    (SOUND.replace("version = 1", "version = 1" + "0" * 400), "less than or equal to 9999"),
    (SOUND.replace("version = 1", "version = 1" + "0" * 5000), "has more than 500 signs"),
    (SOUND.replace("[20, 30, 40]", "[\n" + "3,\n" * 9000 + "]"), "choose lists 1 to 400 values"),
    (SOUND + PART * 400, "is larger than"),
    (SOUND + PART.replace('"heat"', '"more"').replace("heat *", "more *") * 100, "at most 20 items"),
    (SOUND.replace("[{", "[\n" + '{ code = "N02", value = "heat * 1000" },\n' * 900 + "{"), "at most 30 items"),
]  # fmt: skip
ALIKE = [
    (answering("stored_heat(vоlume, rise)"), "may not hold 'о'"),  # a Cyrillic o
    (answering("stored_heat(ｖolume, rise)"), "may not hold 'ｖ'"),  # full width: Python would take it for v
    (answering("stored_heat(volume, rise) − 1"), "may not hold '−'"),  # a printer's minus
    (answering("stored_heat(volume, rise) * ２"), "may not hold '２'"),  # a full-width figure
    (answering("stored_heat(volume,\u00a0rise)"), "may not hold"),  # a blank that is none
    (answering("stored_heat\u200b(volume, rise)"), "may not hold"),  # a blank of no width
    (answering("stored_heat(volume, rise)\u202e"), "may not hold"),  # turns the line round
    (answering("ѕtored_heat(volume, rise)"), "may not hold 'ѕ'"),
    (SOUND.replace('name = "heat"', 'name = "hеat"'), "should match pattern"),
    (SOUND.replace("volume = {", '"vоlume" = {'), "should match pattern"),
    (SOUND.replace("N02", "Ν02"), "should match pattern"),  # a Greek capital
    (SOUND.replace("N02", "N0２"), "should match pattern"),
    (SOUND.replace("hostile-1", "hоstile-1"), "should match pattern"),
    (SOUND.replace('"larkrigg"', '"lаrkrigg"'), "'larkrigg', 'quillbeck' or 'tansy'"),
    (SOUND.replace('"kWh"', '"kＷh"'), "is not a unit that exercises use"),
    (SOUND.replace('"01"', '"０1"'), "should match pattern"),
    (SOUND.replace("heat.stored-heat", "heat.stоred-heat"), "is not in outcomes.toml"),
    (SOUND.replace("{volume}", "{vоlume}"), "neither a given nor an earlier part"),
]


def parts(**answers):
    """Return a file whose parts have these names and answers."""
    made = [PART.replace('"heat"', f'"{name}"').replace("heat *", f"{name} *")
            .replace("stored_heat(volume, rise)", answer) for name, answer in answers.items()]  # fmt: skip
    return HEAD + "".join(made)


CIRCLES = [
    (parts(heat="heat"), "names the part 'heat', which does not come earlier"),
    (parts(one="two", two="one"), "names the part 'two', which does not come earlier"),
    (parts(one="three", two="one", three="two"), "names the part 'three', which does not come earlier"),
    (parts(**{f"p{n}": f"p{(n + 1) % 20}" for n in range(20)}), "names the part 'p1', which does not come earlier"),
    (slipping("heat + later"), "names 'later', which is neither a given nor an earlier part"),
    (SOUND.replace("How much heat?", "Is it {heat}?"), "leaves room for {heat}"),
    (SOUND.replace("story = \"{site}", "story = \"{heat} {site}"), "leaves room for {heat}"),
    (parts(one="stored_heat(volume, rise)", two="one", one_more="two")
     .replace('"one_more"', '"one"').replace("one_more *", "one *"), "'one' is already the name of something else"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "says"), DEEP, ids=range(len(DEEP)))
def test_deep_nesting_is_refused(said, text, says):
    faults = said(text)
    assert [fault for fault in faults if says in fault], faults


@pytest.mark.parametrize(("text", "says"), HUGE, ids=range(len(HUGE)))
def test_huge_numbers_and_powers_are_refused(said, text, says):
    faults = said(text)
    assert [fault for fault in faults if says in fault], faults


@pytest.mark.parametrize(("text", "says"), ALIKE, ids=range(len(ALIKE)))
def test_letters_that_look_alike_are_refused(said, text, says):
    faults = said(text)
    assert [fault for fault in faults if says in fault], faults


@pytest.mark.parametrize(("text", "says"), CIRCLES, ids=range(len(CIRCLES)))
def test_parts_that_run_in_a_circle_are_refused(said, text, says):
    faults = said(text)
    assert [fault for fault in faults if says in fault], faults


def test_the_biggest_file_that_may_be_read_is_checked_in_seconds(tmp_path):
    """Twenty parts of up to thirty long formulas each, as many as 60,000 bytes hold, and nothing wrong with them."""
    long = "heat * 1000" + " + volume - volume" * 4
    slips = "".join(f'{{ code = "N{n:02}", value = "{long} + {n} * heat" }},\n' for n in range(1, 23))
    part = PART.replace('[{ code = "N02", value = "heat * 1000" }]', f"[\n{slips}]")
    text = HEAD + "".join(
        part.replace("heat *", f"h{n} *").replace("* heat", f"* h{n}").replace('"heat"', f'"h{n}"')
        .replace('"heat *', f'"h{n} *') for n in range(20)
    )  # fmt: skip
    assert 50_000 < len(text.encode()) < 60_000
    (tmp_path / "one.toml").write_text(text, encoding="utf-8")
    began = time.process_time()
    report = check(tmp_path)
    assert [str(fault) for fault in report.faults] == []
    assert time.process_time() - began < 10


DAYS = [
    ("day = {", f"day = {{ x = {'[' * 400}{']' * 400},", "has more than 500 signs; break it up"),
    ("day = {", f"day = {{ x = {'[' * 90}{']' * 90},", "is not a key that is known here"),
    ('"4 hour"', '"1e308 hour"', "is too large to be a time"),
    ("day = {", 'day = { weather = "../../secret.csv",', 'must be a temperature, a day or "invented year"'),
    ("fault = {", "fault = { after = 1e300,", "less than or equal to 10000"),
    ('"larkrigg"\nask = "Name', '"lаrkrigg"\nask = "Name', "'larkrigg', 'quillbeck' or 'tansy'"),  # a Cyrillic letter
    ("options = [\n", "options = [\n" + '{ says = "x", because = "Because." },\n' * 900, "at most 8 items"),
]


@pytest.mark.parametrize(("old", "new", "says"), DAYS, ids=range(len(DAYS)))
def test_questions_without_a_number_are_no_way_in_either(tmp_path, old, new, says):
    assert kinds_files.ALL_KINDS.count(old) >= 1
    (tmp_path / "one.toml").write_text(kinds_files.ALL_KINDS.replace(old, new, 1), encoding="utf-8")
    assert says in "\n".join(str(fault) for fault in check(tmp_path).faults)
