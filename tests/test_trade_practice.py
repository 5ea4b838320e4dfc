"""What the trade says of such an installation, held against our sites, our table of defaults and the library.

Every fact here is common practice, no source: the trade's own figures, typed in from outside the package.
"""

import re
import tomllib
from math import exp

import pytest

from tlib import documents, installation, tables, units
from tlib.heat_transfer import coil_outlet
from tlib.safety import settings_ladder
from tlib.stratification import usable_heat

FILES = {name: tables.shipped("workbooks") / "sites" / f"{name}.toml" for name in ("larkrigg", "quillbeck", "tansy")}
SITES = {name: installation.load(path) for name, path in FILES.items()}
FIRES = [name for name, site in SITES.items() if site.burner]
DEFAULTS = tables.table("trade_defaults")
FLOW = 10 * 60 * 1.163
"""10 l/min of water [W/K], by the 1.163 Wh for each litre and kelvin that the trade's sums use."""


def default(part, name, key="value", unit="degC"):
    return units.read(DEFAULTS[part][name][key], unit)


@pytest.mark.parametrize("name", SITES)
def test_the_top_of_the_store_is_run_at_about_75_to_85(name):
    """Common practice, no source: 75 to 85 °C at the top of a store with a coil in it, before any limit has to act."""
    assert (default("store", "top", "least"), default("store", "top", "most")) == (75.0, 85.0)
    site = SITES[name]
    controls = [site.boiler.thermostat.breaks]
    if site.solar:
        controls.append(site.solar.control.store_limit)
    if site.burner and site.burner.wiring.endswith("store limit"):
        controls.append(site.burner.store_limit.breaks)
    assert 75.0 <= max(controls) <= 85.0 < site.safety.high_limit.makes


def test_the_store_thermostat_of_the_boiler_is_set_to_75():
    """Common practice, no source: 75 °C to start from. Larkrigg keeps to it; the others stand lower."""
    assert default("signals", "store thermostat", "breaks") == 75.0
    assert SITES["larkrigg"].boiler.thermostat.breaks == 75.0
    least, most = (default("signals", "store thermostat", end) for end in ("least", "most"))
    assert all(least <= site.boiler.thermostat.breaks <= most for site in SITES.values())


@pytest.mark.parametrize("name", FIRES)
def test_the_burner_gets_no_water_back_below_55_to_60(name):
    """Common practice, no source: 55 to 60 °C, by the loading valve."""
    assert (default("burner", "least_return", "least"), default("burner", "least_return", "most")) == (55.0, 60.0)
    assert 55.0 <= SITES[name].burner.loading_valve.opens <= 65.0


def test_the_charge_pump_with_a_store_limit_stops_at_80():
    """Common practice, no source: 80 °C, where the pump is wired through a store limit."""
    assert default("signals", "store limit", "breaks") == 80.0
    limited = [site.burner for site in SITES.values() if site.burner and site.burner.wiring.endswith("store limit")]
    assert limited, "one of the sites is wired so"
    assert all(burner.store_limit.breaks == 80.0 for burner in limited)


@pytest.mark.parametrize("name", SITES)
def test_the_high_limit_dumps_at_90(name):
    """Common practice, no source: 90 °C."""
    assert default("signals", "high limit", "makes") == 90.0
    assert SITES[name].safety.high_limit.makes == 90.0


@pytest.mark.parametrize("name", FIRES)
def test_the_thermal_valve_opens_at_97(name):
    """Common practice, no source: 95 to 97 °C, 97 the usual one; every fire has one."""
    valve = SITES[name].safety.thermal_valve
    assert default("signals", "thermal discharge valve", "opens_most") == 97.0
    assert valve.opens == 97.0


def test_the_pipe_thermostat_is_about_a_metre_along_the_flow_pipe():
    """Common practice, no source: about 1 m from the burner, so that it feels water and not the fire."""
    assert default("burner", "pipe_thermostat_place", unit="m") == pytest.approx(1.0)
    assert all(SITES[name].burner.primaries.length > 1.0 for name in FIRES)


@pytest.mark.parametrize("name", FIRES)
def test_the_bypass_of_the_loading_valve_is_8_mm(name):
    """Common practice, no source: a fixed bore of 8 mm."""
    assert DEFAULTS["burner"]["bypass"]["tube"] == "8 mm"
    assert SITES[name].burner.bypass == "8 mm"


def test_the_heating_main_is_28_mm_with_branches_of_22():
    """Common practice, no source: 28 mm with 22 mm branches in a house of usual size; a narrow terrace takes less."""
    assert (DEFAULTS["heating"]["main"]["tube"], DEFAULTS["heating"]["main"]["branches"]) == ("28 mm", "22 mm")
    mains = {name: (site.heating.main.tube, site.heating.main.branches) for name, site in SITES.items()}
    assert mains["larkrigg"] == mains["quillbeck"] == ("28 mm", "22 mm")
    assert mains["tansy"] == ("22 mm", "15 mm")


def test_a_store_wears_60_mm_of_insulation_or_more():
    """Common practice, no source: 60 mm of foam. Larkrigg's file gives the measured loss in its place."""
    assert default("store", "insulation", unit="m") == pytest.approx(0.060)
    thickness = [site.store.loss.insulation for site in SITES.values() if not isinstance(site.store.loss, float)]
    assert len(thickness) == 2
    assert min(thickness) >= 0.060


def test_controls_are_fed_from_one_fused_spur_of_3_a():
    """Common practice, no source: 3 A, which is 690 W at 230 V: enough for pumps, never for an immersion heater."""
    fuse = DEFAULTS["electricity"]["controls_spur"]["fuse"]
    assert fuse == 3
    heaters = [heater for site in SITES.values() if site.immersions
               for heater in (site.immersions.low, site.immersions.high) if heater]  # fmt: skip
    assert heaters
    assert all(heater.power > 230 * fuse for heater in heaters)


@pytest.mark.parametrize("wiring", ["pipe thermostat", "pipe thermostat and store limit"])
def test_the_ladder_of_the_trades_own_figures_has_no_fault(wiring):
    """Common practice, no source: 75, 80, 90 and 97 °C stand in order, with the pump wired either way."""
    text = FILES["larkrigg"].read_text(encoding="utf-8")
    for line, value in (
        (r'(?m)^thermostat = \{ breaks = "\S+', "75"), (r'(?m)^store_limit = \{ breaks = "\S+', "80"),
        (r'high_limit = \{ makes = "\S+', "90"), (r'thermal_valve = \{ opens = "\S+', "97"),
        (r'wiring = "[^"]+', wiring),
    ):  # fmt: skip
        text, found = re.subn(line, lambda match, value=value: f'{match[0].rpartition(chr(34))[0]}"{value}', text)
        assert found == 1, line
    assert tomllib.loads(text)["burner"]["store_limit"]["breaks"] == "80 degC"
    site = documents.parse(text, installation.Installation)
    assert (site.boiler.thermostat.breaks, site.burner.store_limit.breaks) == (75.0, 80.0)
    assert [finding for finding in settings_ladder(site) if finding.kind == "fault"] == []


def test_a_top_of_60_makes_the_tap_lukewarm_and_one_of_80_does_not():
    """Common practice, no source: at 10 l/min from 10 °C a store at 60 °C no longer gives 48 °C, one at 80 °C does."""
    assert coil_outlet(60.0, 10.0, 900.0, FLOW) < 48.0 < coil_outlet(80.0, 10.0, 900.0, FLOW)


@pytest.mark.parametrize("shower", [38.0, 40.0, 42.0])
def test_a_top_of_60_at_least_halves_the_showers(shower):
    """Common practice, no source: the minutes of shower from 300 litres at least halve.

    A stirred store of temperature T gives a shower of 10 l/min as long as its coil lifts 10 °C to the shower; that
    ends at T = 10 + (shower - 10) / (1 - exp(-UA / C)). Until then each minute takes 10 kg (shower - 10) out of it.
    """
    ends = 10.0 + (shower - 10.0) / (1.0 - exp(-900.0 / FLOW))
    assert coil_outlet(ends, 10.0, 900.0, FLOW) == pytest.approx(shower)
    minutes = [
        usable_heat([top, top], mass=300.0, limit=ends) / (FLOW * (shower - 10.0)) / 60.0 for top in (60.0, 80.0)
    ]
    assert minutes[1] == pytest.approx(300.0 * (80.0 - ends) / (10.0 * (shower - 10.0)))
    assert 0.0 < minutes[0] <= minutes[1] / 2.0
