"""Two exercises with a part of every kind, as a tutor would write them, for the tests of pages and of a class.

The log can be replaced by one from which a test, like a learner, reads what broke: `told_log`.
"""

from tlib import tables

ALL, SAFE = "all-kinds-1", "be-safe-1"

ALL_KINDS = """\
format = 1
id = "all-kinds-1"
version = 2
workbook = "13"
outcome = "expansion.size-a-vessel"
level = 1
site = "larkrigg"
written_by = "a test"
references = ["EN 12828 annex D"]
story = "The store at {site} holds {volume}, to be warmed by {rise}. The owner is <Ottoline>."

[given]
volume = { from = 200, to = 500, step = 10, unit = "litre" }
rise = { from = 20, to = 60, step = 1, unit = "K" }

[[part]]
name = "heat"
kind = "number"
ask = "How much heat is that?"
answer = "stored_heat(volume, rise)"
unit = "kWh"
within = { relative = 0.03, because = "a fair choice of constants" }
slips = [{ code = "N02", value = "volume * rise * 1.163" }]

[[part]]
name = "why"
kind = "choice"
ask = "The relief valve drips when it is hot. What first?"
hints = ["Ask what lifted it."]
working = "Pressure lifted it, so the room in the vessel comes first."
options = [
    { says = "LONG", right = true, because = "A valve lifts for a reason." },
    { says = "Fit a new relief valve", slip = "Q21" },
    { says = "Wait & see", because = "It will not mend itself." },
]

[[part]]
name = "recharge"
kind = "order"
ask = "Put the steps in order."
working = "Water first, air second."
steps = ["Isolate the vessel", "Let its water down to nought", "Read the charge", "Pump it up", "Open it again"]
slips = [{ code = "Q20", puts = 3, before = 2 }]

[[part]]
name = "log"
kind = "trace"
site = "larkrigg"
ask = "Name the fault and the one test that decides."
fault = { from = ["charge pump dead", "wet wood"] }
not_faults = [{ says = "The glass is broken", because = "A glass that is broken lets warm air out." }]
day = { begins = "17:00", duration = "4 hour", firing = [{ time = "17:30", kilos = "6 kg", moisture = 0.2 }] }
show = ["burner flow", "burner return", "store top", "system pressure", "charge pump"]
tests = [
    { says = "Feel whether the pump turns", decides = "charge pump dead" },
    { says = "Measure the moisture of the logs", decides = "wet wood" },
    { says = "Change the pump", slip = "Q25" },
]
signs = { "wet wood" = "It never gets hot.", "charge pump dead" = "It boils at once." }

[[part]]
name = "spot"
kind = "schematic"
site = "larkrigg"
ask = "Mark what must not be there."
mistake = { from = ["valve in the vent", "valve in the cold feed"] }
slips = [{ code = "Q22", marks = ["log burner"] }]
working = "Nothing may shut it."

[[part]]
name = "letter"
kind = "written"
ask = "Tell the owner why."
rubric = [{ earns = 1, for = "a claim that fits" }, { earns = 2, for = "a number, such as {volume}" }]
working = "Because {volume} of water grows when it warms."
"""

BE_SAFE = """\
format = 1
id = "be-safe-1"
version = 1
workbook = "13"
outcome = "expansion.size-a-vessel"
level = 1
site = "larkrigg"
written_by = "a test"
references = ["EN 12828 annex D"]
story = "The cut-out has tripped."

[[part]]
name = "act"
kind = "choice"
safety = true
ask = "What now?"
options = [
    { says = "Find out what made it trip", right = true },
    { says = "Bridge it and watch", slip = "Q26" },
    { says = "Press it in until it stays", because = "It guards you." },
]

[[part]]
name = "which"
kind = "choice"
ask = "Which of these go on working in a power cut?"
marks = { fact = 2 }
options = [
    { says = "The relief valve", right = true }, { says = "The heat-leak radiator", right = true },
    { says = "The charge pump", because = "It has no power." }, { says = "The zone valve", because = "Nor has this." },
]
"""

LONG = (
    "Check the charge of the vessel, with its own water let down to nought and its valve shut, before any part of the "
    "system is bought or changed or the gauge is topped up again"
)
ALL_KINDS = ALL_KINDS.replace("LONG", LONG)
FAULTS = ("charge pump dead", "wet wood")
SPOTS = ("valve in the pipe from the burner's flow up to the cistern",
         "valve in the pipe from the cistern down to the burner")  # fmt: skip


def write_bank(folder, all_kinds=ALL_KINDS, be_safe=BE_SAFE):
    """Write both exercises and the shipped lists into a folder of their own; return it."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{ALL}.toml").write_text(all_kinds, encoding="utf-8")
    (folder / f"{SAFE}.toml").write_text(be_safe, encoding="utf-8")
    for name in ("slips.toml", "outcomes.toml"):
        (folder / name).write_bytes((tables.shipped("exercises") / name).read_bytes())
    return folder


def told_log(part, name, seed):
    """Return a small log by hand, not simulated: its top is 40 °C for the first fault and 50 °C for the next."""
    top, rising = 40.0 + 10.0 * part.fault.from_.index(name), [20.0 + 1.2 * place for place in range(49)]
    series = {"burner flow": [*rising[:20], None, *rising[21:]], "store top": [top] * 49,
              "system pressure": [1.2 + 0.01 * place for place in range(49)],
              "charge pump": [int(10 < place < 30) for place in range(49)]}  # fmt: skip
    return {"begins": 61200.0, "every": 300.0, "series": series}


def fault_in(picture):
    """Return the fault that a log of `told_log` tells."""
    return FAULTS[round((picture["series"]["store top"][0] - 40) / 10)]
