"""Where everything stands in a schematic, laid out from an installation and at most one planted mistake."""

from typing import NamedTuple

from tlib.installation.schematic_parts import TANK, Coil, Label, Part, Pipe, Plan, Spot
from tlib.validation import OutOfRange

__all__ = ["MISTAKES", "Mistake", "Plan", "Spot", "plan_of"]


class Mistake(NamedTuple):
    """A planted mistake: a part too many, a part that is missing, or one in the wrong place."""

    says: str
    """What is wrong, for feedback."""
    needs: tuple
    """Parts of an installation without which it cannot be."""
    spot: str
    """The name of the spot that must be marked."""


MISTAKES = {
    "valve in the vent": Mistake("A valve must never stand in an open vent.", ("burner",), "vent valve"),
    "valve in the cold feed": Mistake("A valve must never stand in the cold feed.", ("burner",), "feed valve"),
    "valve in the heat leak": Mistake("What can be shut is no heat leak.", ("heat_leak",), "leak valve"),
    "heating drawn from the top": Mistake(
        "Drawn from the top, the heating takes the shower's heat.", ("heating", "boiler"), "heating flow"),
    "burner without its loading valve": Mistake(
        "Without a loading valve cold water comes back to the fire.", ("burner",), "plain return"),
    "solar loop without its non-return valve": Mistake(
        "Without a non-return valve the store warms the roof at night.", ("solar",), "solar return"),
    "tap without its blending valve": Mistake(
        "Without a blending valve the tap can scald.", ("hot_water",), "plain outlet"),
    "thermal valve fed through a pump": Mistake(
        "The thermal valve must work without power: from the mains, not by a pump.", ("burner", "safety"), "feed pump"),
}  # fmt: skip
"""Every mistake that can be planted, by its name."""


class _Draft:
    """A plan while it is laid out."""

    def __init__(self):
        self.parts, self.pipes, self.labels, self.coils = [], [], [], []

    def pipe(self, flow, *points, carries=()):
        """Lay a pipe through points."""
        self.pipes.append(Pipe(flow=flow, points=points, carries=carries))

    def part(self, name, says, symbol, at, spot, **more):
        """Set a part with its numbered spot."""
        self.parts.append(Part(name=name, says=says, symbol=symbol, at=at, spot=spot, **more))

    def label(self, x, y, says, anchor="start"):
        """Write a word."""
        self.labels.append(Label(at=(x, y), says=says, anchor=anchor))

    def coil(self, left, right, coil, flow, carries):
        """Wind a coil."""
        low, high = _y(coil.bottom), _y(coil.top)
        self.coils.append(Coil(across=(left, right), low=low, high=high, flow=flow, carries=carries))


def plan_of(installation, mistake_name=None):
    """Return the plan of an installation, with a mistake in it if one is named.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file.
    mistake_name : str, optional
        The name of a mistake to plant, from `MISTAKES`.

    Returns
    -------
    Plan
        Parts in the order of their numbers.

    Raises
    ------
    OutOfRange
        If no mistake has the name, or the installation lacks the part that it spoils.

    Examples
    --------
    >>> from tlib import installation, tables
    >>> larkrigg = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
    >>> plan_of(larkrigg).spots[0].says
    'log burner'
    """
    wrong = _planted(installation, mistake_name)
    draft, ports = _Draft(), installation.store.connections
    draft.label((TANK[0] + TANK[2]) / 2, TANK[1] - 8, "store", "middle")
    if installation.burner:
        _fire_side(draft, installation, ports, wrong)
    if installation.boiler:
        _boiler_side(draft, ports)
    if installation.heating:
        _heating_side(draft, installation, ports, wrong)
    if installation.solar:
        _solar_side(draft, installation, wrong)
    if installation.hot_water:
        _tap_side(draft, installation, wrong)
    _immersions(draft, installation)
    _pressure(draft, installation)
    _high_limit(draft, installation)
    return Plan(parts=draft.parts, pipes=draft.pipes, labels=draft.labels, coils=draft.coils)


def _planted(installation, name):
    """Return the name of the spot that a mistake spoils, or no name."""
    if name is None:
        return ""
    if name not in MISTAKES:
        raise OutOfRange(f"no mistake is known by the name {name!r}; the names are {', '.join(sorted(MISTAKES))}.")
    for part in MISTAKES[name].needs:
        if getattr(installation, part) is None:
            raise OutOfRange(f"{installation.name} has no [{part}], so its schematic cannot show {name!r}.")
    return MISTAKES[name].spot


def _y(height):
    """Return where a height of the store stands [px]."""
    return round(TANK[3] - height * (TANK[3] - TANK[1]), 1)


def _fire_side(draft, installation, ports, wrong):
    flow, back = _y(ports["burner_flow"]), _y(ports["burner_return"])
    draft.pipe("log burner", (120, 420), (200, 420), (200, flow), (TANK[0], flow), carries=("burner to store",))
    draft.pipe("log burner", (TANK[0], back), (236, back), (236, 476), (120, 476), carries=("burner to store",))
    draft.part("log burner", "log burner", "flame", (80, 448), (80, 462), size=(80, 76))
    if wrong == "plain return":
        draft.part("plain return", "the return to the log burner", "", (200, 476), (200, 492))
    else:
        draft.pipe("log burner", (180, 420), (180, 476))
        draft.part("loading valve", "loading valve, with its bypass", "three-way", (180, 476), (180, 496))
    draft.part("charge pump", "charge pump", "pump", (146, 476), (146, 498), way=-1)
    if installation.heat_leak:
        draft.pipe("log burner", (58, 410), (58, 318), carries=("heat leak",))
        draft.pipe("log burner", (102, 318), (102, 410), carries=("heat leak",))
        draft.part("heat leak", "heat-leak radiator", "ribs", (80, 300), (80, 270), size=(70, 34))
        if wrong == "leak valve":
            draft.part("leak valve", "valve in the pipe to the heat-leak radiator", "valve", (58, 364), (34, 364),
                      is_upright=True)  # fmt: skip
    if installation.system == "vented":
        _open_vent(draft, wrong)
    if installation.safety and installation.safety.thermal_valve:
        _thermal_valve(draft, wrong)


def _open_vent(draft, wrong):
    draft.pipe("log burner", (150, 420), (150, 70), (84, 70), (84, 92))
    draft.pipe("log burner", (36, 122), (20, 122), (20, 540), (132, 540), (132, 476))
    draft.part("cistern", "feed-and-expansion cistern", "tank", (62, 108), (62, 106), size=(76, 36))
    draft.part("open vent", "open vent", "", (150, 180), (166, 180))
    draft.part("cold feed", "cold feed", "", (20, 230), (36, 230))
    if wrong == "vent valve":
        draft.part("vent valve", "valve in the pipe from the burner's flow up to the cistern", "valve", (150, 250),
                  (174, 250), is_upright=True)  # fmt: skip
    if wrong == "feed valve":
        draft.part("feed valve", "valve in the pipe from the cistern down to the burner", "valve", (20, 396), (42, 398),
                  is_upright=True)  # fmt: skip


def _thermal_valve(draft, wrong):
    draft.pipe("hot water", (60, 580), (60, 486), carries=("thermal valve",))
    draft.pipe("hot water", (96, 486), (96, 566), carries=("thermal valve",))
    says = "thermal valve, mains water through a coil to the tundish"
    draft.part("thermal valve", says, "valve", (60, 520), (40, 520),
              is_upright=True)  # fmt: skip
    draft.label(68, 592, "mains")
    draft.label(102, 574, "tundish")
    if wrong == "feed pump":
        draft.part("feed pump", "pump in the mains pipe to the thermal valve", "pump", (60, 556), (36, 556))


def _boiler_side(draft, ports):
    flow, back = _y(ports["boiler_flow"]), _y(ports["boiler_return"])
    draft.pipe("boiler", (570, 186), (470, 186), (470, flow), (TANK[2], flow), carries=("boiler to store",))
    draft.pipe("boiler", (TANK[2], back), (436, back), (436, 226), (570, 226), carries=("boiler to store",))
    draft.part("boiler", "boiler", "flame", (610, 206), (610, 222), size=(80, 70))
    draft.part("boiler pump", "boiler pump", "pump", (510, 226), (510, 248))


def _heating_side(draft, installation, ports, wrong):
    flow = _y(0.97) if wrong == "heating flow" else _y(ports["heating_flow"])
    back, right = _y(ports["heating_return"]), 412
    draft.pipe("heating", (TANK[2], flow), (right, flow), (right, 330), (575, 330), carries=("heating", "floor"))
    draft.pipe("heating", (575, 356), (424, 356), (424, back), (TANK[2], back), carries=("heating", "floor"))
    if wrong == "heating flow":
        draft.part("heating flow", "where the heating leaves the store", "", (right, flow), (right + 14, flow + 16))
    draft.part("heating pump", "heating pump", "pump", (460, 330), (460, 308))
    draft.part("zone valve", "zone valve of the heating", "valve", (510, 330), (510, 308))
    draft.part("radiators", "radiators", "ribs", (610, 343), (610, 310), size=(70, 40))
    if installation.heating.underfloor:
        draft.pipe("heating", (540, 330), (540, 404), (575, 404), carries=("floor",))
        draft.pipe("heating", (575, 424), (424, 424), carries=("floor",))
        draft.part("mixing valve", "mixing valve of the floor", "three-way", (540, 404), (520, 392))
        draft.part("floor", "heated floor", "waves", (610, 414), (650, 384), size=(70, 34))


def _solar_side(draft, installation, wrong):
    coil, heat = installation.solar.coil, ("solar to store",)
    draft.coil(340, 376, coil, "sun", heat)
    draft.pipe("sun", (650, 60), (676, 60), (676, 520), (366, 520), (366, TANK[3]), carries=heat)
    draft.pipe("sun", (346, TANK[3]), (346, 548), (690, 548), (690, 96), (590, 96), (590, 80), carries=heat)
    draft.part("collector", "solar collector", "panel", (610, 62), (610, 62), size=(80, 40))
    draft.part("solar pump", "solar pump", "pump", (520, 548), (520, 570))
    if wrong == "solar return":
        draft.part("solar return", "the pipe from the store's solar coil to the collector", "", (440, 548), (440, 564))
    else:
        draft.part("non-return valve", "non-return valve of the solar loop", "one-way", (440, 548), (440, 570))
    draft.part("solar coil", "solar coil", "", (366, _y(coil.top)), (394, _y(coil.top) + 14))


def _tap_side(draft, installation, wrong):
    coil = installation.hot_water.coil
    draft.coil(308, 332, coil, "hot water", ("hot water",))
    draft.pipe("hot water", (256, 578), (316, 578), (316, TANK[3] - 14), carries=("hot water",))
    draft.label(250, 596, "mains, cold")
    draft.pipe("hot water", (320, TANK[1] + 8), (320, 104), (500, 104), carries=("hot water",))
    draft.part("hot-water coil", "hot-water coil", "", (320, 240), (320, 240))
    if wrong == "plain outlet":
        draft.part("plain outlet", "the pipe from the hot-water coil to the tap", "", (410, 104), (410, 120))
    else:
        draft.pipe("hot water", (410, 140), (410, 104))
        draft.label(418, 146, "cold")
        draft.part("blending valve", "blending valve", "three-way", (410, 104), (410, 82))
    draft.part("tap", "tap", "tap", (514, 104), (540, 96))


def _immersions(draft, installation):
    if installation.immersions is None:
        return
    for name in ("low", "high"):
        one = getattr(installation.immersions, name)
        if one:
            y = _y((one.bottom + one.top) / 2)
            says = "lower immersion heater" if name == "low" else "upper immersion heater"
            draft.part(f"{name} immersion", says, "rod", (TANK[0], y), (TANK[0] - 22, y))


def _pressure(draft, installation):
    if installation.vessel is None:
        return
    draft.pipe("heating", (470, 356), (470, 470))
    draft.part("vessel", "expansion vessel", "vessel", (470, 484), (500, 484))
    draft.pipe("heating", (500, 356), (500, 440), (540, 440))
    draft.part("relief valve", "relief valve", "relief", (540, 452), (562, 456), is_upright=True)


def _high_limit(draft, installation):
    if installation.safety and "high_limit" in installation.store.sensors:
        y = _y(installation.store.sensors["high_limit"])
        draft.part("high limit", "sensor of the high limit", "sensor", (TANK[0] + 12, y), (TANK[0] + 30, y))
