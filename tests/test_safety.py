"""The settings ladder: each rule broken alone is found alone, and a setting exactly at its limit is let pass.

The order and the gaps are common practice, no source; they are written out here a second time, in numbers.
"""

from math import exp, log

import numpy as np
import pytest

from tlib import documents, installation, tables
from tlib.installation import Installation
from tlib.safety import Finding, settings_ladder

EVERYTHING = """
format = 1
name = "Every part at once"
system = "vented"
static_head = "5 m"
[store]
volume = "300 litre"
height = "1.26 m"
wall = { material = "steel", thickness = "3 mm" }
loss = "1.85 W/K"
room = "15 degC"
[store.connections]
burner_flow = 0.45
burner_return = 0.05
boiler_flow = 0.95
boiler_return = 0.50
heating_flow = 0.60
heating_return = 0.10
[store.sensors]
top = 0.92
middle = 0.50
lower = 0.12
boiler_thermostat = 0.65
store_limit = 0.80
high_limit = 0.50
[hot_water]
coil = { from = 0.08, to = 0.97, conductance = "900 W/K" }
cold = "10 degC"
blending = "50 degC"
[burner]
to_water = "10 kW"
to_room = "5 kW"
efficiency = 0.75
share_to_water = 0.65
fuel = "wood"
burn_time = "3 hour"
water = "20 litre"
body = "100 kg"
standing = "3 W/K"
loading_valve = { opens = "60 degC", band = "10 K" }
pump = { flow = "600 litre/hour", pipe_thermostat = { makes = "55 degC", breaks = "40 degC" } }
wiring = "pipe thermostat and store limit"
store_limit = { breaks = "80 degC", makes = "50 degC" }
primaries = { tube = "28 mm", length = "12 m", fittings = 8 }
[heat_leak]
output = "1.5 kW"
rise = "2 m"
tube = "28 mm"
length = "10 m"
fittings = 12
[boiler]
fuel = "heating oil"
output = "18 kW"
least = "9 kW"
thermostat = { breaks = "75 degC", makes = "67 degC" }
overrun = "5 minute"
[solar]
area = "4 m2"
eta0 = 0.78
a1 = "3.9 W/(m2 K)"
a2 = "0.015 W/(m2 K2)"
slope = "40 degree"
azimuth = "180 degree"
coil = { from = 0.03, to = 0.33, conductance = "250 W/K" }
flow = "120 litre/hour"
control = { starts = "7 K", stops = "3 K", store_limit = "85 degC", collector_limit = "120 degC" }
[pv]
peak = "6 kW"
slope = "35 degree"
azimuth = "190 degree"
house = "250 W"
[immersions]
control = "matched"
low = { from = 0.08, to = 0.14, power = "3 kW", thermostat = { breaks = "65 degC", makes = "58 degC" }, cut_out = "95 degC" }
high = { from = 0.66, to = 0.72, power = "3 kW", thermostat = { breaks = "60 degC", makes = "54 degC" }, cut_out = "95 degC" }
[heating]
radiators = { output = "9 kW", flow = "60 degC", return = "40 degC", room = "20 degC" }
underfloor = { area = "38 m2", mixed = "40 degC", limit = "50 degC", pump = "600 litre/hour", covering = "0.05 m2 K/W", slab = "120 kJ/(m2 K)" }
house = { loss = "375 W/K", capacity = "22 MJ/K" }
enough_heat = { makes = "45 degC", breaks = "38 degC" }
main = { tube = "28 mm", branches = "22 mm" }
[safety]
high_limit = { makes = "90 degC", breaks = "60 degC" }
thermal_valve = { opens = "97 degC", closes = "92 degC", sensor = "burner", flow = "8 litre/minute" }
relief = "3.0 bar gauge"
"""  # noqa: E501 - an inline table stands on one line


def changed(record, key, value):
    """Return a record with the value at a key path replaced."""
    head, _, rest = key.partition(".")
    if isinstance(record, dict):
        return record | {head: value}
    return record.model_copy(update={head: changed(getattr(record, head), rest, value) if rest else value})


def without(site, *parts):
    return site.model_copy(update=dict.fromkeys(parts))


WHOLE = documents.parse(EVERYTHING, Installation)
PIPE_ONLY = changed(WHOLE, "burner.wiring", "pipe thermostat")
NO_FIRE = without(WHOLE, "burner", "heat_leak")
NO_FIRE_NO_TAPS = changed(without(NO_FIRE, "hot_water"), "boiler.thermostat.makes", 50.0)
EARLY_PUMP = changed(WHOLE, "burner.pump.pipe_thermostat.makes", 45.0)
LOW_DUMP = changed(WHOLE, "safety.high_limit.makes", 89.0)
LOW_DUMP = changed(LOW_DUMP, "solar.control.store_limit", 84.0)
COOLER = changed(WHOLE, "boiler.thermostat.makes", 66.0)
SENSOR = "store.sensors.high_limit"
LOW, HIGH = "immersions.low", "immersions.high"


def test_an_installation_with_every_part_in_order_has_nothing_to_say():
    for site in (WHOLE, PIPE_ONLY, NO_FIRE, NO_FIRE_NO_TAPS, EARLY_PUMP, LOW_DUMP, COOLER):
        assert settings_ladder(site) == ()


# Each row: the installation, the one setting changed, the last value that passes and the first that does not, which
# setting is blamed, and words of the sentence.
FAULTS = [
    (WHOLE, "heating.underfloor.limit", 55.0, 55.1, "heating.underfloor.limit", "must not be above 55 °C"),
    (EARLY_PUMP, "burner.loading_valve.opens", 50.1, 50.0, "heating.underfloor.limit", "must be below the opening"),
    (WHOLE, "burner.pump.pipe_thermostat.makes", 59.9, 60.0, "burner.pump.pipe_thermostat", "must be below the open"),
    (WHOLE, "burner.loading_valve.opens", 75.0, 75.1, "burner.loading_valve.opens", "must not be above the store"),
    (WHOLE, "boiler.thermostat.breaks", 75.0, 75.1, "boiler.thermostat", "5 K below the store limit of the charge"),
    (PIPE_ONLY, "boiler.thermostat.breaks", 80.0, 80.1, "boiler.thermostat", "5 K below the store limit of the solar"),
    (WHOLE, "solar.control.store_limit", 80.1, 80.0, "burner.store_limit", "must be below the store limit of the s"),
    (WHOLE, "burner.store_limit.breaks", 84.9, 85.0, "burner.store_limit", "must be below the store limit of the s"),
    (WHOLE, "burner.store_limit.breaks", 80.0, 79.9, "boiler.thermostat", "5 K below the store limit of the charge"),
    (WHOLE, "solar.control.store_limit", 85.0, 85.1, "solar.control.store_limit", "5 K below the high limit"),
    (WHOLE, "safety.high_limit.makes", 92.0, 92.1, "safety.high_limit", "5 K below the opening of the thermal valve"),
    (WHOLE, "safety.high_limit.makes", 90.0, 89.9, "solar.control.store_limit", "5 K below the high limit"),
    (WHOLE, "safety.thermal_valve.closes", 95.0, 95.1, "safety.thermal_valve.closes", "at least 2 K below the open"),
    (WHOLE, "heating.enough_heat.makes", 66.9, 67.0, "heating.enough_heat", "must be below where the boiler's store"),
    (WHOLE, f"{LOW}.thermostat.breaks", 85.0, 85.1, f"{LOW}.thermostat", "10 K below the cut-out of the lower"),
    (WHOLE, f"{HIGH}.thermostat.breaks", 85.0, 85.1, f"{HIGH}.thermostat", "10 K below the cut-out of the upper"),
    # With a part left out, the rungs on either side of it meet.
    (without(PIPE_ONLY, "solar"), "boiler.thermostat.breaks", 80.0, 85.1, "boiler.thermostat", "5 K below the high"),
    (without(WHOLE, "solar"), "burner.store_limit.breaks", 89.9, 90.0, "burner.store_limit", "below the high limit"),
    (without(WHOLE, "boiler", "solar"), "burner.store_limit.breaks", 60.0, 59.9, "burner.loading_valve.opens", "above"),
    (without(NO_FIRE, "boiler"), "safety.high_limit.makes", 90.0, 89.9, "solar.control.store_limit", "5 K below the h"),
]  # fmt: skip

WARNINGS = [
    (WHOLE, "heating.underfloor.limit", 45.0, 44.9, "heating.underfloor.limit", "the usual range, 45 to 55 °C"),
    (NO_FIRE_NO_TAPS, "boiler.thermostat.breaks", 60.0, 59.9, "boiler.thermostat", "the usual range, 60 to 80 °C"),
    (without(NO_FIRE, "solar"), "boiler.thermostat.breaks", 80.0, 80.1, "boiler.thermostat", "the usual range, 60 to"),
    (WHOLE, "safety.thermal_valve.opens", 97.0, 97.1, "safety.thermal_valve.opens", "the usual range, 95 to 97 °C"),
    (LOW_DUMP, "safety.thermal_valve.opens", 95.0, 94.9, "safety.thermal_valve.opens", "the usual range, 95 to 97 °C"),
    (WHOLE, SENSOR, 0.60, 0.61, SENSOR, "above the heating's draw at 0.60"),
    (WHOLE, f"{LOW}.cut_out", 85.1, 85.0, f"{LOW}.cut_out", "The sun can heat the store to 85 °C"),
    (WHOLE, f"{HIGH}.cut_out", 85.1, 85.0, f"{HIGH}.cut_out", "The sun can heat the store to 85 °C"),
    (PIPE_ONLY, f"{LOW}.cut_out", 90.1, 90.0, f"{LOW}.cut_out", "The fire can heat the store to 90 °C"),
    (without(WHOLE, "solar"), f"{HIGH}.cut_out", 80.1, 80.0, f"{HIGH}.cut_out", "The fire can heat the store to 80 °C"),
    (WHOLE, "boiler.thermostat.makes", 62.5, 62.4, "boiler.thermostat", "needs a store at 62.4 °C"),
    (WHOLE, "hot_water.coil.conductance", 770.0, 750.0, "boiler.thermostat", "48 °C at the tap"),
    (COOLER, "hot_water.cold", 10.0, 0.0, "boiler.thermostat", "from 0 °C"),
    (WHOLE, "heat_leak", WHOLE.heat_leak, None, "burner.wiring", "(80 °C) stops the pump while the fire still burns"),
]  # fmt: skip


@pytest.mark.parametrize(("site", "key", "passes", "fails", "setting", "says"), FAULTS)
def test_a_broken_order_is_a_fault_and_the_only_finding(site, key, passes, fails, setting, says):
    assert settings_ladder(changed(site, key, passes)) == ()
    (finding,) = settings_ladder(changed(site, key, fails))
    assert (finding.kind, finding.setting) == ("fault", setting)
    assert says in finding.says


@pytest.mark.parametrize(("site", "key", "passes", "fails", "setting", "says"), WARNINGS)
def test_what_should_be_known_is_a_warning_and_the_only_finding(site, key, passes, fails, setting, says):
    assert settings_ladder(changed(site, key, passes)) == ()
    (finding,) = settings_ladder(changed(site, key, fails))
    assert (finding.kind, finding.setting) == ("warning", setting)
    assert says in finding.says


@pytest.mark.parametrize("setting", ["boiler.thermostat", "solar.control.store_limit", "safety.high_limit"])
@pytest.mark.parametrize("start", [61.1, 62.6, 63.6, 70.0])
def test_a_gap_of_exactly_five_passes_wherever_it_lies_and_one_of_four_point_nine_does_not(setting, start):
    """Also where decimals cannot be written exactly in twos, as 61.1 and 66.1."""

    keys = ["boiler.thermostat.breaks", "solar.control.store_limit", "safety.high_limit.makes",
            "safety.thermal_valve.opens"]  # fmt: skip
    below = next(place for place, key in enumerate(keys) if key.startswith(setting))

    def ladder(gap):
        site = without(NO_FIRE_NO_TAPS, "heating", "immersions")
        for key in ("safety.high_limit.breaks", "safety.thermal_valve.closes"):
            site = changed(site, key, 40.0)
        for place, key in enumerate(keys):
            up = start + 6.0 * (place - below) if place <= below else start + gap + 6.0 * (place - below - 1)
            site = changed(site, key, round(up, 1))
        return [finding for finding in settings_ladder(site) if finding.kind == "fault"]

    assert ladder(5.0) == []
    assert [finding.setting for finding in ladder(4.9)] == [setting]
    assert "must be at least 5 K below" in ladder(4.9)[0].says


def test_any_settings_agree_with_the_order_written_out_as_inequalities():
    rng = np.random.default_rng(4)
    verdicts = []
    for _ in range(400):
        fl, ps, lv, s1, sl, sm, hl, tv = rungs = np.array([50, 55, 60, 75, 80, 85, 90, 96]) + rng.choice(
            [-5.5, -0.5, 0.0, 0.0, 0.0, 0.0, 0.5], 8
        )
        keys = (
            "heating.underfloor.limit", "burner.pump.pipe_thermostat.makes", "burner.loading_valve.opens",
            "boiler.thermostat.breaks", "burner.store_limit.breaks", "solar.control.store_limit",
            "safety.high_limit.makes", "safety.thermal_valve.opens",
        )  # fmt: skip
        site = changed(WHOLE, "safety.thermal_valve.closes", 80.0)
        for key, value in zip(keys, rungs.tolist(), strict=True):
            site = changed(site, key, value)
        low_end = fl <= 55 and fl < lv and ps < lv and lv <= s1
        steps = s1 + 5 <= sl < sm and s1 + 5 <= sm and sm + 5 <= hl and hl + 5 <= tv
        verdicts.append(bool(low_end and steps))
        faults = [finding for finding in settings_ladder(site) if finding.kind == "fault"]
        assert (faults == []) == verdicts[-1], (rungs, faults)
    assert 20 < sum(verdicts) < 380, "both answers occurred"


def test_the_need_of_the_tap_is_exact_where_the_sum_comes_out_even():
    """A coil that takes the water 76 % of the way: 48 °C from 10 °C then needs a store at 60 °C."""
    site = changed(WHOLE, "hot_water.coil.conductance", 697.8 * log(1 / 0.24))
    assert settings_ladder(changed(site, "boiler.thermostat.makes", 60.0)) == ()
    (finding,) = settings_ladder(changed(site, "boiler.thermostat.makes", 59.0))
    assert "the coil gives 47.2 °C" in finding.says
    assert "needs a store at 60.0 °C" in finding.says


def test_what_the_coil_gives_at_65_57_is_said():
    """By hand: 10 + 47 (1 - exp(-900 / 697.8)) = 44.1 °C at 10 l/min, 1.163 Wh for each litre and kelvin."""
    by_hand = 10 + 47 * (1 - exp(-900 / (10 * 60 * 1.163)))
    site = changed(changed(WHOLE, "boiler.thermostat.breaks", 65.0), "boiler.thermostat.makes", 57.0)
    (finding,) = settings_ladder(site)
    assert f"{by_hand:.1f}" == "44.1"
    assert "where the coil gives 44.1 °C at 10 l/min from 10 °C" in finding.says


def test_a_blending_valve_below_the_need_asks_no_more_than_it_lets_through():
    site = changed(WHOLE, "boiler.thermostat.makes", 62.0)
    assert [finding.setting for finding in settings_ladder(site)] == ["boiler.thermostat"]
    assert settings_ladder(changed(site, "hot_water.blending", 46.0)) == ()


def test_a_coil_that_is_far_too_small_is_not_answered_with_an_impossible_store():
    (finding,) = settings_ladder(changed(WHOLE, "hot_water.coil.conductance", 100.0))
    assert finding.says.endswith("48 °C at the tap needs a bigger coil.")


def boils(pascals):
    """The boiling point by the reference library."""
    from CoolProp.CoolProp import PropsSI

    return PropsSI("T", "P", pascals, "Q", 0, "Water") - 273.15


VESSEL = installation.Vessel(volume="25 litre", charge="0.8 bar gauge", fill="1.1 bar gauge")


@pytest.mark.parametrize(
    ("change", "pascals"),
    [
        ({"static_head": 5.0}, 101_325 + 1000 * 9.80665 * 5.0),
        ({"static_head": 1.0}, 101_325 + 1000 * 9.80665 * 1.0),
        ({"system": "sealed", "static_head": 4.0}, 101_325 + 1000 * 9.80665 * 4.0 + 30_000),
        ({"system": "sealed", "vessel": VESSEL}, 101_325 + 110_000),
    ],
    ids=["5 m", "1 m", "sealed without a vessel", "sealed with its vessel"],
)
def test_the_ladder_ends_below_boiling_at_the_pressure_of_the_system(change, pascals):
    site = changed(WHOLE, "safety.thermal_valve.closes", 90.0).model_copy(update=change)
    (below,) = settings_ladder(changed(site, "safety.thermal_valve.opens", boils(pascals) - 0.05))
    (above,) = settings_ladder(changed(site, "safety.thermal_valve.opens", boils(pascals) + 0.05))
    assert (below.kind, above.kind) == ("warning", "fault")
    assert "must be below the boiling point" in above.says
    assert above.setting == "safety.thermal_valve.opens"


def test_a_high_limit_alone_must_also_stay_below_boiling():
    site = changed(NO_FIRE, "safety.thermal_valve", None)
    assert settings_ladder(changed(site, "safety.high_limit.makes", 111.0)) == ()
    (finding,) = settings_ladder(changed(site, "safety.high_limit.makes", 112.0))
    assert (finding.kind, finding.setting) == ("fault", "safety.high_limit")


def test_a_store_limit_that_is_not_wired_is_no_rung():
    assert settings_ladder(changed(PIPE_ONLY, "burner.store_limit.breaks", 99.0)) == ()
    assert settings_ladder(changed(PIPE_ONLY, "burner.store_limit", None)) == ()
    assert settings_ladder(without(PIPE_ONLY, "heat_leak")) == (), "the pump runs as long as the pipe is hot"


def test_each_part_may_be_absent():
    optional = ("hot_water", "boiler", "solar", "pv", "immersions", "heating", "safety")
    for part in optional:
        left = without(WHOLE, part)
        assert settings_ladder(left) == (), part
    assert settings_ladder(without(WHOLE, "burner", "heat_leak", *optional)) == ()
    assert settings_ladder(without(WHOLE, *optional)) == ()


def test_a_fire_that_nothing_holds_can_pass_any_cut_out():
    for site in (without(PIPE_ONLY, "safety"), without(PIPE_ONLY, "heating")):
        says = [finding.says for finding in settings_ladder(site)]
        assert len(says) == 2
        assert all(words.startswith("The fire can heat the store to 111.4") for words in says)


def test_a_dump_that_cannot_cool_what_it_feels_does_not_hold_a_fire():
    settings = [finding.setting for finding in settings_ladder(changed(PIPE_ONLY, SENSOR, 0.92))]
    assert settings == [f"{LOW}.cut_out", f"{HIGH}.cut_out", SENSOR]


def test_two_broken_rules_give_two_findings():
    site = changed(changed(WHOLE, "boiler.thermostat.breaks", 79.0), "safety.high_limit.makes", 95.0)
    assert [finding.setting for finding in settings_ladder(site)] == ["boiler.thermostat", "safety.high_limit"]


def test_a_finding_is_one_sentence_with_both_values():
    (finding,) = settings_ladder(changed(WHOLE, "safety.high_limit.makes", 93.0))
    assert finding == Finding(
        "fault",
        "safety.high_limit",
        "The high limit (93 °C) must be at least 5 K below the opening of the thermal valve (97 °C).",
    )


DUMP = (
    "The high limit (90 °C) feels the store at 0.92 of its height, above the heating's draw at 0.60: "
    "the dump cannot cool the water that it feels."
)
SITES = {
    "larkrigg": [("warning", "store.sensors.high_limit")],
    "quillbeck": [],
    "tansy": [],
}


@pytest.mark.parametrize("name", SITES)
def test_the_three_sites_have_no_fault_and_these_warnings(name):
    site = installation.load(tables.shipped("workbooks") / "sites" / f"{name}.toml")
    found = settings_ladder(site)
    assert [(finding.kind, finding.setting) for finding in found] == SITES[name]
    assert (DUMP in [finding.says for finding in found]) == (name == "larkrigg")
