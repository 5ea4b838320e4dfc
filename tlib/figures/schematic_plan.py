"""Where everything stands in a schematic: parts, pipes and names, from an installation and at most one mistake."""

from dataclasses import dataclass, field
from typing import NamedTuple

__all__ = ["MISTAKES", "Mistake", "Part", "Pipe", "Plan", "plan_of"]

TANK = (300, 150, 384, 470)
"""Left, top, right and bottom of the tank [px]."""


@dataclass(frozen=True)
class Part:
    """A part with its symbol and its numbered spot."""

    name: str
    says: str
    symbol: str
    at: tuple
    spot: tuple
    size: tuple = (70, 50)
    label: str = ""
    way: int = 1
    is_upright: bool = False


class Pipe(NamedTuple):
    """A pipe through its corners, drawn in the line of its flow."""

    kind: str
    points: tuple


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


@dataclass
class Plan:
    """What is to be drawn."""

    tank: tuple = TANK
    parts: list = field(default_factory=list)
    pipes: list = field(default_factory=list)
    labels: list = field(default_factory=list)
    coils: list = field(default_factory=list)

    def pipe(self, kind, *points):
        """Lay a pipe through points."""
        self.pipes.append(Pipe(kind, points))

    def part(self, name, says, symbol, at, spot, **more):
        """Set a part with its numbered spot."""
        self.parts.append(Part(name, says, symbol, at, spot, **more))


def plan_of(installation, mistake=None):
    """Return the plan of an installation, with a mistake in it if one is given.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file.
    mistake : Mistake, optional
        One that fits it.

    Returns
    -------
    Plan
        Parts in the order of their numbers.
    """
    wrong = mistake.spot if mistake else ""
    plan, ports = Plan(), installation.store.connections
    plan.labels.append(((TANK[0] + TANK[2]) / 2, TANK[1] - 8, "store", "middle"))
    if installation.burner:
        _fire_side(plan, installation, ports, wrong)
    if installation.boiler:
        _boiler_side(plan, ports)
    if installation.heating:
        _heating_side(plan, installation, ports, wrong)
    if installation.solar:
        _solar_side(plan, installation, wrong)
    if installation.hot_water:
        _tap_side(plan, installation, wrong)
    _immersions(plan, installation)
    _pressure(plan, installation)
    for name, height in installation.store.sensors.items():
        if name == "high_limit" and installation.safety:
            y = _y(height)
            plan.part("high limit", "sensor of the high limit", "sensor", (TANK[0] + 12, y), (TANK[0] + 30, y))
    return plan


def _y(height):
    """Return where a height of the store stands [px]."""
    return round(TANK[3] - height * (TANK[3] - TANK[1]), 1)


def _fire_side(plan, installation, ports, wrong):
    flow, back = _y(ports["burner_flow"]), _y(ports["burner_return"])
    plan.pipe("log burner", (120, 420), (200, 420), (200, flow), (TANK[0], flow))
    plan.pipe("log burner", (TANK[0], back), (236, back), (236, 476), (120, 476))
    plan.part("log burner", "log burner", "flame", (80, 448), (80, 462), size=(80, 76))
    if wrong == "plain return":
        plan.part("plain return", "the return to the log burner", "", (200, 476), (200, 492))
    else:
        plan.pipe("log burner", (180, 420), (180, 476))
        plan.part("loading valve", "loading valve, with its bypass", "three-way", (180, 476), (180, 496))
    plan.part("charge pump", "charge pump", "pump", (146, 476), (146, 498), way=-1)
    if installation.heat_leak:
        plan.pipe("log burner", (58, 410), (58, 318))
        plan.pipe("log burner", (102, 318), (102, 410))
        plan.part("heat leak", "heat-leak radiator", "ribs", (80, 300), (80, 270), size=(70, 34))
        if wrong == "leak valve":
            plan.part("leak valve", "valve in the pipe to the heat-leak radiator", "valve", (58, 364), (34, 364),
                      is_upright=True)  # fmt: skip
    if installation.system == "vented":
        _open_vent(plan, wrong)
    if installation.safety and installation.safety.thermal_valve:
        _thermal_valve(plan, wrong)


def _open_vent(plan, wrong):
    plan.pipe("log burner", (150, 420), (150, 70), (84, 70), (84, 92))
    plan.pipe("heating", (36, 122), (20, 122), (20, 540), (132, 540), (132, 476))
    plan.part("cistern", "feed-and-expansion cistern", "tank", (62, 108), (62, 106), size=(76, 36))
    plan.part("open vent", "open vent", "", (150, 180), (166, 180))
    plan.part("cold feed", "cold feed", "", (20, 230), (36, 230))
    if wrong == "vent valve":
        plan.part("vent valve", "valve in the pipe from the burner's flow up to the cistern", "valve", (150, 250),
                  (174, 250), is_upright=True)  # fmt: skip
    if wrong == "feed valve":
        plan.part("feed valve", "valve in the pipe from the cistern down to the burner", "valve", (20, 396), (42, 398),
                  is_upright=True)  # fmt: skip


def _thermal_valve(plan, wrong):
    plan.pipe("hot water", (60, 580), (60, 486))
    plan.pipe("hot water", (96, 486), (96, 566))
    says = "thermal valve, mains water through a coil to the tundish"
    plan.part("thermal valve", says, "valve", (60, 520), (40, 520),
              is_upright=True)  # fmt: skip
    plan.labels.append((68, 590, "mains", "start"))
    plan.labels.append((102, 574, "tundish", "start"))
    if wrong == "feed pump":
        plan.part("feed pump", "pump in the mains pipe to the thermal valve", "pump", (60, 556), (36, 556))


def _boiler_side(plan, ports):
    flow, back = _y(ports["boiler_flow"]), _y(ports["boiler_return"])
    plan.pipe("boiler", (570, 186), (470, 186), (470, flow), (TANK[2], flow))
    plan.pipe("boiler", (TANK[2], back), (436, back), (436, 226), (570, 226))
    plan.part("boiler", "boiler", "flame", (610, 206), (610, 222), size=(80, 70))
    plan.part("boiler pump", "boiler pump", "pump", (510, 226), (510, 248))


def _heating_side(plan, installation, ports, wrong):
    flow = _y(0.97) if wrong == "heating flow" else _y(ports["heating_flow"])
    back, right = _y(ports["heating_return"]), 412
    plan.pipe("heating", (TANK[2], flow), (right, flow), (right, 330), (575, 330))
    plan.pipe("heating", (575, 356), (424, 356), (424, back), (TANK[2], back))
    if wrong == "heating flow":
        plan.part("heating flow", "where the heating leaves the store", "", (right, flow), (right + 14, flow + 16))
    plan.part("heating pump", "heating pump", "pump", (460, 330), (460, 308))
    plan.part("zone valve", "zone valve of the heating", "valve", (510, 330), (510, 308))
    plan.part("radiators", "radiators", "ribs", (610, 343), (610, 310), size=(70, 40))
    if installation.heating.underfloor:
        plan.pipe("heating", (540, 330), (540, 404), (575, 404))
        plan.pipe("heating", (575, 424), (424, 424))
        plan.part("mixing valve", "mixing valve of the floor", "three-way", (540, 404), (520, 392))
        plan.part("floor", "heated floor", "waves", (610, 414), (650, 384), size=(70, 34))


def _solar_side(plan, installation, wrong):
    coil = installation.solar.coil
    plan.coils.append(((340, 376), _y(coil.bottom), _y(coil.top), "sun"))
    plan.pipe("sun", (650, 60), (676, 60), (676, 520), (366, 520), (366, TANK[3]))
    plan.pipe("sun", (346, TANK[3]), (346, 548), (690, 548), (690, 96), (590, 96), (590, 80))
    plan.part("collector", "solar collector", "panel", (610, 62), (610, 62), size=(80, 40))
    plan.part("solar pump", "solar pump", "pump", (520, 548), (520, 570))
    if wrong == "solar return":
        plan.part("solar return", "the pipe from the store's solar coil to the collector", "", (440, 548), (440, 564))
    else:
        plan.part("non-return valve", "non-return valve of the solar loop", "one-way", (440, 548), (440, 570))
    plan.part("solar coil", "solar coil", "", (366, _y(coil.top)), (394, _y(coil.top) + 14))


def _tap_side(plan, installation, wrong):
    coil = installation.hot_water.coil
    plan.coils.append(((308, 332), _y(coil.bottom), _y(coil.top), "hot water"))
    plan.pipe("hot water", (256, 578), (316, 578), (316, TANK[3] - 14))
    plan.labels.append((250, 590, "mains, cold", "start"))
    plan.pipe("hot water", (320, TANK[1] + 8), (320, 104), (500, 104))
    plan.part("hot-water coil", "hot-water coil", "", (320, 240), (320, 240))
    if wrong == "plain outlet":
        plan.part("plain outlet", "the pipe from the hot-water coil to the tap", "", (410, 104), (410, 120))
    else:
        plan.pipe("hot water", (410, 140), (410, 104))
        plan.labels.append((418, 146, "cold", "start"))
        plan.part("blending valve", "blending valve", "three-way", (410, 104), (410, 82))
    plan.part("tap", "tap", "tap", (514, 104), (540, 96))


def _immersions(plan, installation):
    if installation.immersions is None:
        return
    for name in ("low", "high"):
        one = getattr(installation.immersions, name)
        if one:
            y = _y((one.bottom + one.top) / 2)
            says = "lower immersion heater" if name == "low" else "upper immersion heater"
            plan.part(f"{name} immersion", says, "rod", (TANK[0], y), (TANK[0] - 22, y))


def _pressure(plan, installation):
    if installation.vessel is None:
        return
    plan.pipe("heating", (470, 356), (470, 470))
    plan.part("vessel", "expansion vessel", "vessel", (470, 484), (500, 484))
    plan.pipe("heating", (500, 356), (500, 440), (540, 440))
    plan.part("relief valve", "relief valve", "relief", (540, 452), (562, 456), is_upright=True)
