"""The chain as layers: what stands between a fire and harm, what each needs, and what is left under faults.

These are teaching rules, not a code: appliance instructions, local codes and licensed practice come first.
"""

from typing import NamedTuple

from tlib.safety.faults import FAULTS
from tlib.validation import OutOfRange

__all__ = ["LAYERS", "Layer", "chain_is_complete", "layers_left"]


class _Kind(NamedTuple):
    name: str
    acts: str
    needs_power: bool
    needs_mains: bool
    needs_person: bool


LAYERS = {
    "0": _Kind("right amount of fuel", "before the fire is lit", False, False, True),
    "1": _Kind("charge pump and loading valve", "at 55 °C and 60 °C", True, False, False),
    "2": _Kind("heat-leak radiator", "whenever the burner is hot", False, False, False),
    "3": _Kind("normal draw", "rooms and taps", True, False, False),
    "4": _Kind("high-limit dump", "at 90 °C in the store", True, False, False),
    "5": _Kind("thermal valve", "at 95 to 97 °C", False, True, False),
    "6": _Kind("open vent, or relief valve and vessel", "at boiling, or at 3 bar", False, False, False),
    "7": _Kind("user drill", "at the alarm", False, False, True),
    "E": _Kind("immersion cut-out and boiler limit", "80 to 95 °C", False, False, False),
}
"""Every layer by its number, as the trade counts them from the fire outward. Common practice, no source."""

_LOST = {
    "1": ("power cut", "charge pump dead", "loading valve stuck shut", "pipe thermostat fails open",
          "pipe thermostat reversed", "store limit stuck open"),
    "2": ("heat leak air-locked",),
    "3": ("power cut", "zone valve stuck shut"),
    "4": ("power cut", "high limit fails open", "zone valve stuck shut"),
    "5": ("mains off", "thermal valve seized shut"),
}  # fmt: skip
"""Which faults take a layer away altogether."""


class Layer(NamedTuple):
    """One layer of an installation, and whether it is left."""

    number: str
    """``"0"`` to ``"7"``, or ``"E"``."""
    name: str
    is_left: bool
    says: str
    """Why, in a sentence."""


def layers_left(installation, faults=()):
    """Return the layers of an installation's safety chain, and which are left under faults.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file.
    faults : sequence of str, optional
        Names from `tlib.safety.FAULTS`, all at one time.

    Returns
    -------
    tuple of Layer
        In order; a layer counts as left only if it is fitted and all that it needs is there.

    Raises
    ------
    OutOfRange
        If a fault's name is not known.

    Examples
    --------
    >>> from tlib import installation, tables
    >>> larkrigg = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
    >>> [layer.number for layer in layers_left(larkrigg, ["power cut"]) if layer.is_left]
    ['0', '2', '5', '6', '7', 'E']
    """
    for fault in faults:
        if fault not in FAULTS:
            raise OutOfRange(f"no fault is known by the name {fault!r}.")
    return tuple(_layer(installation, number, faults) for number in LAYERS)


def _layer(installation, number, faults):
    kind = LAYERS[number]
    missing = _missing(installation, number)
    if missing:
        return Layer(number, kind.name, False, missing)
    lost = [fault for fault in faults if fault in _LOST.get(number, ())]
    if lost:
        return Layer(number, kind.name, False, f"Taken away by: {', '.join(lost)}.")
    pump_lost = any(fault in _LOST["1"] for fault in faults)
    if pump_lost and number == "4":
        return Layer(number, kind.name, False, "It feels the store, which cannot see a burner that has lost its pump.")
    if pump_lost and number == "5" and installation.safety.thermal_valve.sensor == "store top":
        return Layer(number, kind.name, False, "Its sensor is in the store; no water moves between burner and store.")
    return Layer(number, kind.name, True, _stands(kind))


def _missing(installation, number):
    """Return why a layer is not fitted, or nothing."""
    parts = {
        "0": (installation.burner, "There is no fire to feed."),
        "1": (installation.burner, "There is no log burner."),
        "2": (installation.heat_leak, "No heat-leak radiator is fitted."),
        "3": (installation.heating or installation.hot_water, "Nothing draws heat."),
        "4": (installation.safety and installation.heating, "There is no high limit, or no heating to dump into."),
        "5": (installation.safety and installation.safety.thermal_valve, "No thermal valve is fitted."),
        "6": (installation.system == "vented" or (installation.safety and installation.vessel),
              "A sealed system needs a relief valve and a vessel."),
        "E": (installation.boiler or installation.immersions, "There is neither boiler nor immersion heater."),
    }  # fmt: skip
    part, says = parts.get(number, (True, ""))
    return "" if part else says


def _stands(kind):
    needs = [word for word, needed in (("electric power", kind.needs_power), ("mains water", kind.needs_mains),
                                       ("a person", kind.needs_person)) if needed]  # fmt: skip
    return f"It acts {kind.acts}; it needs {' and '.join(needs) if needs else 'nothing but itself'}."


def chain_is_complete(installation):
    """Return whether at least two layers without power stand between fire and harm, one of them without mains water.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file. Without a burner nothing burns that cannot be switched off, and the chain is complete.

    Returns
    -------
    bool
        Our teaching rule, not a code.
    """
    if installation.burner is None:
        return True
    unpowered = [layer.number for layer in layers_left(installation) if layer.is_left and layer.number in "256"]
    needed = 3 if installation.system == "sealed" else 2
    return len(unpowered) >= needed and any(not LAYERS[number].needs_mains for number in unpowered)
