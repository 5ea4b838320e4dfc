"""A class of 24 automated learners who sit set work on pages of their own, each with a known way of answering.

Each reads only what was handed out and works with its own arithmetic, as with a calculator: nothing here calls the
library's formulas. What each ought to earn is counted here too, by hand from the marks that the exercises offer.
"""

import os
import shutil
from contextlib import contextmanager
from dataclasses import dataclass
from unittest import mock

from tlib.assessment import answer_book
from tlib.panels.hand_in import HandInBox
from tlib.panels.set_work import SetBox
from tlib.panels.sitting import Sitting

KEY = "a-key-for-the-class-of-24"  # fixed, so that everybody's numbers are the same in every run
FIRST, SECOND = "showers-1", "logs-tonight-1"  # the tutor's own, and one of the open bank
MARKS = {FIRST: {"heat": 3, "hours": 3}, SECOND: {"headroom": 3, "kilos": 4, "hours": 3}}
FULL = 16
IN_TIME, LATE = "2027-01-20T18:00:00.000+00:00", "2027-01-26T18:00:00.000+00:00"

WORK = f"""
format = 1
id = "autumn-1"
title = "Stored heat and the evening fire"
class = "evening-class.csv"
bank = "our-exercises"
exercises = ["{FIRST}", "{SECOND}"]
opens = 2027-01-11
closes = 2027-01-25
hints = 2
key = "{KEY}"
"""

OWN_EXERCISE = f"""
format = 1
id = "{FIRST}"
version = 3
workbook = "01"
outcome = "firing.logs-tonight"
level = 1
site = "tansy"
written_by = "the tests"
references = ["EN ISO 18125"]
story = '''
At {{site}} the store holds {{volume}}. It is at {{hot}}, and its heat is of use down to {{cold}}.
Showers take {{power}} from it.
'''

[given]
volume = {{ from = 150, to = 500, step = 10, unit = "litre" }}
hot = {{ from = 70, to = 84, step = 1, unit = "degC" }}
cold = {{ from = 38, to = 45, step = 1, unit = "degC" }}
power = {{ from = 5, to = 9, step = 0.5, unit = "kW" }}

[[part]]
name = "heat"
kind = "number"
ask = "How much useful heat does it hold?"
answer = "stored_heat(volume, hot - cold)"
unit = "kWh"
within = {{ relative = 0.03, because = "a fair choice of constants moves an energy sum by up to 3 %" }}
slips = [
    {{ code = "N02", value = "volume * (hot - cold) * 1.163" }},
    {{ code = "N03", value = "volume * hot * 1.163 / 1000" }},
    {{ code = "N05", value = "volume * (hot - cold + 273) * 1.163 / 1000" }},
]
hints = ["First find by how many degrees it cools.", "It cools by {{= hot - cold}} K."]
working = "{{volume}} × {{= hot - cold}} K × 1.163 Wh ÷ 1000 = {{heat}}."

[[part]]
name = "hours"
kind = "number"
ask = "For how long do the showers run?"
answer = "heat / power"
unit = "hour"
within = {{ relative = 0.03, because = "a fair choice of constants moves an energy sum by up to 3 %" }}
slips = [
    {{ code = "N09", value = "heat * power" }},
    {{ code = "N10", value = "power / heat" }},
    {{ code = "N12", value = "60 * hours" }},
]
hints = ["Time = heat ÷ power.", "The heat is {{heat}}."]
working = "{{heat}} ÷ {{power}} = {{hours}}."
"""


def heat(n):
    return n["volume"] * (n["hot"] - n["cold"]) * 1.163 / 1000


def headroom(n):
    return n["volume"] * (n["limit"] - n["start"]) * 1.163 / 1000


def in_a_kilo(n):
    """kWh in a kilo of wet wood: 19.0 MJ for each dry kilo, less 2.44 MJ for each kilo of water in it."""
    water = n["moisture"] / 100
    return (19.0 * (1 - water) - 2.44 * water) / 3.6


def to_water(n):
    return n["efficiency"] / 100 * n["share"] / 100


# How each part is worked, rightly and with a slip; an earlier answer of the learner's own goes into the later sums.

RIGHT = {
    (FIRST, "heat"): lambda n, own: heat(n),
    (FIRST, "hours"): lambda n, own: own["heat"] / n["power"],
    (SECOND, "headroom"): lambda n, own: headroom(n),
    (SECOND, "kilos"): lambda n, own: own["headroom"] / (in_a_kilo(n) * to_water(n)),
    (SECOND, "hours"): lambda n, own: own["headroom"] / n["power"],
}
UNITS = {"heat": "kWh", "hours": "hours", "headroom": "kWh", "kilos": "kg"}


@dataclass(frozen=True)
class Plan:
    """What a learner does, and what that ought to cost.

    `slip` is the part, the wrong sum and the code; `said` replaces what is typed for a part; `lost` the marks.
    """

    slip: tuple = ()
    said: object = None  # (exercise, part, number) -> text, or None for the usual way of writing
    lost: float = 0
    hint: tuple = ()
    skip: str = ""  # an exercise left out
    at: str = IN_TIME
    twice: bool = False


def slipped(exercise, part, code, sum_, lost):
    return Plan(slip=(exercise, part, code, sum_), lost=lost)


def in_megajoules(exercise, part, number):
    return f"{3.6 * number:.4g} MJ" if UNITS[part] == "kWh" else None


def with_commas(exercise, part, number):
    if part == "hours":
        return f"{60 * number:.0f} min"
    return f"{number:.2f} {UNITS[part].lower()}".replace(".", ",")


def in_hours_and_minutes(exercise, part, number):
    minutes = round(60 * number)
    return f"{minutes // 60} h {minutes % 60} min" if part == "hours" else None


def kilowatts(exercise, part, number):
    return f"{number:.2f} kW" if part == "headroom" else None


def unreadable(exercise, part, number):
    return "12–14 kWh" if part == "headroom" else None


def nonsense(n, own):
    return 1.37 * headroom(n)


# Marks lost, by the rules of the course: the number where the slip was made (1), and the method marks that its working
# would not have earned: none of them for "all", one for "all but one", all for "none". What follows is not lost again.
PLANS = {
    "1": Plan(),
    "2": Plan(said=in_megajoules, lost=2),  # the heat counts; the unit that was asked for is lost once an exercise
    "3": Plan(said=with_commas),
    "4": Plan(said=in_hours_and_minutes),
    "5": slipped(SECOND, "headroom", "N01", lambda n, own: n["volume"] * (n["limit"] - n["start"]) * 4.187 / 1000, 1),
    "6": slipped(SECOND, "headroom", "N02", lambda n, own: 1000 * headroom(n), 1),
    "7": slipped(SECOND, "headroom", "N03", lambda n, own: n["volume"] * n["limit"] * 1.163 / 1000, 2),
    "8": slipped(
        SECOND, "headroom", "N05", lambda n, own: n["volume"] * (n["limit"] - n["start"] + 273) * 1.163 / 1000, 2
    ),
    "9": slipped(
        SECOND, "headroom", "N07", lambda n, own: n["volume"] * (n["limit"] + n["start"]) / 2 * 1.163 / 1000, 2
    ),
    "10": slipped(SECOND, "kilos", "N32", lambda n, own: own["headroom"] * to_water(n) / in_a_kilo(n), 2),
    "11": slipped(SECOND, "kilos", "N29", lambda n, own: own["headroom"] / (in_a_kilo(n) * n["efficiency"] / 100), 2),
    "12": slipped(SECOND, "kilos", "N26", lambda n, own: own["headroom"] / (19.0 / 3.6 * to_water(n)), 2),
    "13": slipped(SECOND, "hours", "N09", lambda n, own: own["headroom"] * n["power"], 2),
    "14": slipped(FIRST, "hours", "N10", lambda n, own: n["power"] / own["heat"], 2),
    "15": slipped(FIRST, "hours", "N12", lambda n, own: 60 * own["heat"] / n["power"], 1),
    "16": Plan(slip=(SECOND, "headroom", "N11", lambda n, own: headroom(n)), said=kilowatts, lost=1),
    "17": slipped(SECOND, "headroom", "", nonsense, 2),  # no slip that anybody knows, carried on as it should be
    "18": Plan(said=unreadable, lost=3),
    "19": Plan(hint=(SECOND, "kilos", 2), lost=1),  # the first is free, the second costs a quarter of four marks
    "20": Plan(at=LATE),
    "21": Plan(),  # whose file is then damaged
    "22": Plan(),  # who sends a photograph instead
    "23": Plan(twice=True),
    "24": Plan(skip=SECOND, lost=10),
}
NAMES = {number: f"Learner No. {number}" for number in PLANS} | {"12": "=cmd|'/C calc'!A0", "7": "Gwil; of the hall"}


def write_work(folder):
    """Write the work file, a class list out of a spreadsheet program, and the tutor's own exercise."""
    (folder / "our-exercises").mkdir(parents=True)
    (folder / "our-exercises" / f"{FIRST}.toml").write_text(OWN_EXERCISE, encoding="utf-8")
    rows = ["Name;Group;Number", *(f'"{NAMES[number]}";3a;{number.zfill(3)}' for number in PLANS)]
    (folder / "evening-class.csv").write_text("\n".join(rows), encoding="utf-8-sig")
    (folder / "work.toml").write_text(WORK, encoding="utf-8")
    return folder / "work.toml"


def sit(work, number, plan, laptop, seat=None):
    """Let one learner sit the work on a laptop of their own and hand in; return the folder of hand-in files."""
    papers = work.folder / "hand-out" / work.book
    with _laptop(laptop), mock.patch.object(answer_book, "_now", return_value=plan.at):
        place = Sitting()
        place.begin(work.book)
        place.switch(seat or number)
        boxes = {name: SetBox(papers, name, place) for name in MARKS if name != plan.skip}
        for name, box in boxes.items():
            _answer(box, name, plan)
            if plan.twice:
                HandInBox(place).press.click()
        HandInBox(place).press.click()
        place.close()
    return laptop / "hand-in"


def _answer(box, exercise, plan):
    own, numbers = {}, box._task._set.numbers
    for part in box.parts:
        name = part.question.name
        slip = plan.slip if plan.slip[:2] == (exercise, name) else None
        own[name] = (slip[3] if slip else RIGHT[exercise, name])(numbers, own)
        for _ in range(plan.hint[2] if plan.hint[:2] == (exercise, name) else 0):
            part.hint.click()
        said = plan.said(exercise, name, own[name]) if plan.said else None
        part.field.value = said or f"{own[name]:.4g} {UNITS[name]}"


@contextmanager
def _laptop(folder):
    before = os.environ.get("TLIB_ANSWERS")
    os.environ["TLIB_ANSWERS"] = str(folder)
    try:
        yield
    finally:
        if before is None:
            del os.environ["TLIB_ANSWERS"]
        else:
            os.environ["TLIB_ANSWERS"] = before


def hand_in_all(work, laptops):
    """Let the whole class sit and collect the files, some of which come to harm on the way."""
    collected = work.folder / "hand-ins"
    for number, plan in PLANS.items():
        place = sit(work, number, plan, laptops / number)
        for file in place.iterdir():
            shutil.copy(file, collected / file.name)
            if number == "21":
                text = (collected / file.name).read_text(encoding="utf-8")
                (collected / file.name).write_text(text.replace(' kWh"', '9 kWh"', 1), encoding="utf-8", newline="")
            if number == "22":
                (collected / file.name).rename(collected / "my work.jpg")
                (collected / "my work.jpg").write_bytes(b"\xff\xd8\xff\xe0" + bytes(range(256)) * 40)
    return collected
