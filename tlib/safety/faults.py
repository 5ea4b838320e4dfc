"""The faults that a run can suffer: what each needs, what its severity means, and what it takes hold of."""

from typing import NamedTuple

__all__ = ["FAULTS", "FaultKind"]


class FaultKind(NamedTuple):
    """A kind of fault."""

    needs: tuple
    """Parts of an installation without which it cannot be; with a dot, a key within a part."""
    touches: tuple
    """What it takes hold of: two faults that touch the same cannot be at one time."""
    least: float = 1.0
    """Least severity; with one and the same greatest, it has none to choose."""
    most: float = 1.0
    usual: float = 1.0
    means: str = ""
    """What the severity counts, with its unit."""


def _share(needs, touches, usual, means, least=0.05, most=1.0):
    return FaultKind(needs, touches, least, most, usual, means)


FAULTS = {
    "power cut": FaultKind((), ("power",)),
    "charge pump dead": _share(("burner",), ("charge pump",), 1.0, "share of the flow that is lost"),
    "loading valve stuck open": _share(("burner",), ("loading valve",), 1.0, "how far open [-]"),
    "loading valve stuck shut": _share(("burner",), ("loading valve",), 1.0, "how far shut [-]"),
    "pipe thermostat fails open": FaultKind(("burner",), ("pipe thermostat",)),
    "pipe thermostat loose": FaultKind(("burner",), ("pipe thermostat",), 3.0, 40.0, 15.0, "felt too cool by [K]"),
    "pipe thermostat reversed": FaultKind(("burner",), ("pipe thermostat",)),
    "store limit stuck open": FaultKind(("burner.store_limit",), ("store limit",)),
    "wet wood": FaultKind(("burner",), ("wood",), 0.25, 0.60, 0.40, "moisture, wet basis [-]"),
    "heat leak air-locked": FaultKind(("heat_leak",), ("heat leak",)),
    "high limit fails open": FaultKind(("safety",), ("high limit",)),
    "high limit stuck made": FaultKind(("safety",), ("high limit",)),
    "zone valve stuck shut": FaultKind(("heating",), ("zone valve",)),
    "heating drawn from the top": FaultKind(("heating",), ("heating draw",)),
    "pumping over at the vent": FaultKind(("heating", "cistern"), ("vent",), 100.0, 2000.0, 600.0, "heat lost [W]"),
    "thermal valve seized shut": FaultKind(("safety.thermal_valve",), ("thermal valve",)),
    "thermal valve passing": _share(("safety.thermal_valve",), ("thermal valve",), 0.1, "share of its flow", 0.01),
    "mains off": FaultKind((), ("mains",)),
    "vessel flat": FaultKind(("vessel",), ("vessel",)),
    "relief valve passing": FaultKind(
        ("vessel", "safety"), ("relief valve",), 0.02, 1.0, 0.1, "water lost at any pressure [l/h]"
    ),
    "fill loop open": FaultKind(("vessel", "safety"), ("filling loop",), 0.1, 4.0, 0.5, "water let in [l/h]"),
    "coil scaled": _share(
        ("hot_water",), ("hot-water coil",), 0.5, "share of its conductance that is lost", 0.05, 0.95
    ),
    "blending valve fails hot": FaultKind(("hot_water",), ("blending valve",)),
    "blending valve fails cool": FaultKind(("hot_water",), ("blending valve",), 15.0, 40.0, 32.0, "tap no warmer [°C]"),
    "immersion thermostat welded": FaultKind(("immersions",), ("immersion thermostat",)),
    "immersion cut-out tripped": FaultKind(("immersions",), ("immersion cut-out",)),
    "store thermostat stuck made": FaultKind(("boiler",), ("boiler thermostat",)),
    "boiler thermostat low in the store": FaultKind(("boiler",), ("boiler thermostat",), 0.05, 0.6, 0.15, "height [-]"),
    "solar sensor slipped": FaultKind(("solar",), ("solar sensor",), 3.0, 30.0, 12.0, "store felt too cool by [K]"),
    "non-return valve missing": FaultKind(("solar",), ("non-return valve",)),
}
"""Every fault by its name."""
