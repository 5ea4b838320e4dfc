"""Safety finds: whether the settings of an installation stand in the right order, one above the other.

The numbers are common practice and live in `tables/trade_defaults.toml`. Passing this check makes no installation safe:
the appliance instructions and the local code outrank it, and a licensed or registered person does or checks the work.
"""

from itertools import pairwise
from typing import NamedTuple

from tlib import units
from tlib.heat_transfer import coil_outlet, effectiveness_isothermal
from tlib.heat_transfer.layered_coil import SPECIFIC_HEAT
from tlib.installation import OffRise, OnRise
from tlib.tables import table
from tlib.thermal_expansion import static_pressure
from tlib.water_properties import saturation_temperature

__all__ = ["Finding", "settings_ladder"]

_RUNGS = {
    "FL": ("heating.underfloor.limit", "the floor limit"),
    "PS": ("burner.pump.pipe_thermostat", "the pipe thermostat of the burner"),
    "LV": ("burner.loading_valve.opens", "the opening of the loading valve"),
    "S1": ("boiler.thermostat", "the store thermostat of the boiler"),
    "SL": ("burner.store_limit", "the store limit of the charge pump"),
    "SM": ("solar.control.store_limit", "the store limit of the solar control"),
    "HL": ("safety.high_limit", "the high limit"),
    "TV": ("safety.thermal_valve.opens", "the opening of the thermal valve"),
}
"""By tag: the key in an installation file, and the words for it."""
_CUT_OUTS = (("low", "the lower immersion heater"), ("high", "the upper immersion heater"))
_DUST = 1e-9
"""Settings are written in decimals, so a gap of exactly 5 K may come out a rounding error short [K]."""


class Finding(NamedTuple):
    """Something that the check found."""

    kind: str
    """``"fault"`` where a setting breaks the order, ``"warning"`` where it holds but something should be known."""
    setting: str
    """Its key in the installation file; of two settings that contradict each other, the one that must stay below."""
    says: str
    """One sentence with the rule and the values."""


class _Rung(NamedTuple):
    setting: str
    words: str
    value: float


def settings_ladder(installation):
    """Check that the settings of an installation stand in the right order, each far enough above the one before.

    Parameters
    ----------
    installation : tlib.installation.Installation
        As read from a file. Parts that are not there are skipped.

    Returns
    -------
    tuple of Finding
        In the order in which they were looked for; empty if there is nothing to say.

    References
    ----------
    Common practice, no source: the rows named ``ladder`` in ``tables/trade_defaults.toml``.

    Notes
    -----
    It reads settings and where sensors lie; it runs nothing. A store boils at the pressure of the water above it, or
    at the fill pressure of its vessel; a sealed one without a vessel in its file is taken at 0.3 bar above the water.
    The store thermostat is taken for the top of the store, which is as warm or warmer.

    Examples
    --------
    >>> from tlib import installation, tables
    >>> site = installation.load(tables.shipped("workbooks") / "sites" / "larkrigg.toml")
    >>> for finding in settings_ladder(site):
    ...     print(finding.kind, finding.setting)
    warning store.sensors.high_limit
    """
    rungs = _rungs(installation)
    boiling = _Rung("static_head", "the boiling point", _boiling_point(installation))
    found = [
        *_order(rungs),
        *_ends(rungs, boiling),
        *_valves(installation, rungs),
        *_enough_heat(installation),
        *_cut_outs(installation, rungs, boiling),
        *_hot_water(installation, boiling),
        *_dump(installation, rungs),
        *_wiring(installation, rungs),
    ]
    return (*found, *_usual(rungs, {finding.setting for finding in found}))


def _rungs(installation):
    """Return the rungs that are there, by tag: each the setting that is reached as the water warms."""
    found = {tag: _Rung(key, words, _value(installation, key)) for tag, (key, words) in _RUNGS.items()}
    if installation.burner is None or not installation.burner.wiring.endswith("store limit"):
        del found["SL"]
    return {tag: rung for tag, rung in found.items() if rung.value is not None}


def _value(installation, key):
    found = installation
    for name in key.split("."):
        found = getattr(found, name, None)
    return max(found.makes, found.breaks) if isinstance(found, OffRise | OnRise) else found


def _boiling_point(installation):
    pressure = units.ATMOSPHERE + static_pressure(installation.static_head)
    if installation.system == "sealed":
        above = units.read(_rule("fill_above_static_head")["value"], "Pa") - units.ATMOSPHERE
        pressure = installation.vessel.fill if installation.vessel else pressure + above
    return float(saturation_temperature(pressure))


def _rule(name):
    return table("trade_defaults")["ladder"][name]


def _kelvin(name):
    return units.read(_rule(name)["value"], "K")


def _order(rungs):
    """Compare each rung with the next that is there, without and with a store limit on the charge pump."""
    gap, with_gap = _kelvin("least_gap"), {low for low, _ in _rule("least_gap")["between"]}
    chains = [[tag for tag in _rule(name)["tags"] if tag in rungs] for name in ("order_with_store_limit", "order")]
    for low, high in dict.fromkeys(pair for chain in chains for pair in pairwise(chain)):
        if low in with_gap:
            yield from _below_by(gap, rungs[low], rungs[high])
        elif low in _rule("order")["may_equal_the_next"]:
            yield from _not_above(rungs[low], rungs[high])
        else:
            yield from _below(rungs[low], rungs[high])


def _ends(rungs, boiling):
    """Check that no water is let boil, and that no floor is let grow too hot."""
    if rungs:
        yield from _below(max(rungs.values(), key=lambda rung: rung.value), boiling)
    if floor := rungs.get("FL"):
        most = units.read(_rule("floor_limit")["most"], "degC")
        if floor.value > most + _DUST:
            yield Finding("fault", floor.setting, f"{_said(floor)} must not be above {most:g} °C.")


def _valves(installation, rungs):
    """Check the two settings below the loading valve, and that the thermal valve closes below its opening."""
    for tag in ("FL", "PS"):
        if tag in rungs and "LV" in rungs:
            yield from _below(rungs[tag], rungs["LV"])
    if opens := rungs.get("TV"):
        closes = installation.safety.thermal_valve.closes
        closing = _Rung("safety.thermal_valve.closes", "the closing of the thermal valve", closes)
        yield from _below_by(_kelvin("thermal_valve_closes_below"), closing, opens)


def _enough_heat(installation):
    if installation.heating and installation.boiler:
        enough = _Rung("heating.enough_heat", "the enough-heat thermostat", installation.heating.enough_heat.makes)
        makes = installation.boiler.thermostat.makes
        yield from _below(enough, _Rung("boiler.thermostat", "where the boiler's store thermostat makes again", makes))


def _cut_outs(installation, rungs, boiling):
    """Check each cut-out against its thermostat, and against what can heat the store past it."""
    gap = _kelvin("immersion_cut_out_above_thermostat")
    for name, words in _CUT_OUTS:
        if (heater := getattr(installation.immersions, name, None)) is None:
            continue
        key = f"immersions.{name}"
        trips = _Rung(f"{key}.cut_out", f"the cut-out of {words}", heater.cut_out)
        stops = _Rung(f"{key}.thermostat", f"the thermostat of {words}", heater.thermostat.breaks)
        yield from _below_by(gap, stops, trips)
        for source, reach in _reaches(installation, rungs, boiling):
            if reach >= trips.value:
                yield _warning(
                    trips.setting,
                    f"{source} can heat the store to {_celsius(reach)}, and {trips.words} trips at",
                    f"{_celsius(trips.value)}: somebody must then reset it by hand.",
                )


def _reaches(installation, rungs, boiling):
    """Yield what cannot wait, and how far it can heat the store while every control works."""
    if installation.burner:
        dumps = _can_dump(installation, rungs) and not _dump_is_blind(installation)
        held = "SL" if "SL" in rungs else "HL" if dumps else None
        yield "The fire", rungs.get(held, boiling).value
    if "SM" in rungs:
        yield "The sun", rungs["SM"].value


def _can_dump(installation, rungs):
    return installation.heating is not None and "HL" in rungs


def _dump_is_blind(installation):
    """Say whether the high limit feels water that lies above the heating's draw, which the dump cannot cool."""
    return installation.store.sensors["high_limit"] > installation.store.connections["heating_flow"]


def _hot_water(installation, boiling):
    """Compare where the store thermostat makes with what the coil needs for a hot tap."""
    if not (installation.hot_water and installation.boiler):
        return
    water, makes, need = installation.hot_water, installation.boiler.thermostat.makes, _rule("hot_water_need")
    wanted = min(units.read(need["temperature"], "degC"), water.blending)
    flow = units.read(need["flow"], "kg/s") * SPECIFIC_HEAT
    top = water.cold + (wanted - water.cold) / effectiveness_isothermal(water.coil.conductance, flow)
    if makes < top - _DUST:
        tap = coil_outlet(makes, water.cold, water.coil.conductance, flow)
        mend = f"a store at {top:.1f} °C" if top < boiling.value else "a bigger coil"
        yield _warning(
            "boiler.thermostat",
            f"The store thermostat of the boiler makes again at {_celsius(makes)}, where the coil gives {tap:.1f} °C",
            f"at {need['flow']} from {_celsius(water.cold)}; {_celsius(wanted)} at the tap needs {mend}.",
        )


def _dump(installation, rungs):
    """Check that the dump draws from no lower than the high limit feels."""
    if _can_dump(installation, rungs) and _dump_is_blind(installation):
        store = installation.store
        yield _warning(
            "store.sensors.high_limit",
            f"The high limit ({_celsius(rungs['HL'].value)}) feels the store at {store.sensors['high_limit']:.2f} of",
            f"its height, above the heating's draw at {store.connections['heating_flow']:.2f}:",
            "the dump cannot cool the water that it feels.",
        )


def _wiring(installation, rungs):
    """Check that something carries a burner whose pump a full store stops."""
    if "SL" in rungs and installation.heat_leak is None:
        yield _warning(
            "burner.wiring",
            f"{_said(rungs['SL'])} stops the pump while the fire still burns,",
            "and no [heat_leak] carries the heat of the burner then.",
        )


def _usual(rungs, told):
    """Compare with the usual range each setting of which nothing was said."""
    signals = table("trade_defaults")["signals"]
    ranges = {
        "FL": [_rule("floor_limit")[end] for end in ("least", "most")],
        "S1": [signals["store thermostat"][end] for end in ("least", "most")],
        "TV": [signals["thermal discharge valve"][end] for end in ("opens_least", "opens_most")],
    }
    for tag, ends in ranges.items():
        least, most = (units.read(end, "degC") for end in ends)
        rung = rungs.get(tag)
        if rung and rung.setting not in told and not least - _DUST <= rung.value <= most + _DUST:
            yield _warning(rung.setting, f"{_said(rung)} is not in the usual range, {least:g} to {most:g} °C.")


def _below(low, high):
    if low.value >= high.value:
        yield _contradiction(low, "must be below", high)


def _not_above(low, high):
    if low.value > high.value:
        yield _contradiction(low, "must not be above", high)


def _below_by(gap, low, high):
    if high.value - low.value < gap - _DUST:
        yield _contradiction(low, f"must be at least {gap:g} K below", high)


def _contradiction(low, rule, high):
    return Finding("fault", low.setting, f"{_said(low)} {rule} {high.words} ({_celsius(high.value)}).")


def _warning(setting, *says):
    return Finding("warning", setting, " ".join(says))


def _said(rung):
    return f"{rung.words[0].upper()}{rung.words[1:]} ({_celsius(rung.value)})"


def _celsius(value):
    return f"{value:.5g} °C"
