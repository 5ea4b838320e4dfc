"""An installation file is read whole, or refused by file, line and key."""

import pytest

from tlib import installation, tables
from tlib.documents import UnreadableDocument

SITES = tables.shipped("workbooks") / "sites"
LARKRIGG, QUILLBECK, TANSY = (SITES / f"{name}.toml" for name in ("larkrigg", "quillbeck", "tansy"))


def changed(tmp_path, *changes, site=LARKRIGG):
    """Write a site's file with some text replaced; return its path."""
    text = site.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = tmp_path / "changed.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_larkrigg_is_read_into_si():
    site = installation.load(LARKRIGG)
    assert site.name == "Larkrigg Farm"
    assert site.store.volume == pytest.approx(0.3)
    assert site.burner.pump.flow == pytest.approx(600 / 3600)
    assert site.safety.relief == pytest.approx(3.0e5 + 101_325)
    assert site.hot_water.coil.top == pytest.approx(0.97)
    assert site.burner.burn_time == pytest.approx(3 * 3600)


@pytest.mark.parametrize("path", [LARKRIGG, QUILLBECK, TANSY], ids=lambda path: path.stem)
def test_every_site_can_be_read(path):
    assert installation.load(path).format == 1


def test_the_three_sites_show_between_them_every_part_there_is():
    sites = [installation.load(path) for path in (LARKRIGG, QUILLBECK, TANSY)]
    optional = [name for name, field in installation.Installation.model_fields.items() if not field.is_required()]
    assert len(optional) == 11
    for part in optional:
        assert any(getattr(site, part) is not None for site in sites), part


def test_what_was_read_cannot_be_changed():
    site = installation.load(LARKRIGG)
    with pytest.raises(ValueError, match="frozen"):
        site.store.volume = 1.0


@pytest.mark.parametrize(
    ("change", "key", "says"),
    [
        (('volume = "300 litre"', 'volume = "300 kW"'), "store.volume", "'300 kW' is a power, not a volume"),
        (('volume = "300 litre"', 'volume = "-300 litre"'), "store.volume", "a volume must be 0.05 m3 or more"),
        (('volume = "300 litre"', "volume = 300"), "store.volume", "must be a text with a number and a unit"),
        (("burner_return = 0.05\n", ""), "file", "store.connections lacks 'burner_return' (there is a [burner])"),
        (("burner_return = 0.05", "burner_return = 1.05"), "store.connections.burner_return", "must be 1"),
        (("high_limit = 0.92\n\n", "\n"), "file", "store.sensors lacks 'high_limit'"),
        (('overrun = "5 minute"', 'overrunn = "5 minute"'), "boiler.overrunn", "is not a key that is known here"),
        (('overrun = "5 minute"\n', ""), "boiler.overrun", "is missing"),
        (('breaks = "47 degC"', 'breaks = "57 degC"'), "burner.pump.pipe_thermostat", "'breaks' must be below 'makes'"),
        (("{ from = 0.08, to = 0.97", "{ from = 0.98, to = 0.97"), "hot_water.coil", "a coil runs upward"),
        (('system = "vented"', 'system = "open"'), "system", "input should be 'vented' or 'sealed'"),
        (("boiler_flow = 0.95", "boyler_flow = 0.95"), "file", "lacks 'boiler_flow'"),
        (('name = "Larkrigg Farm"\n', 'name = "Larkrigg Farm"\nname = "again"\n'), "layout", "verwrite"),
    ],
)
def test_a_fault_is_named_with_its_key(tmp_path, change, key, says):
    with pytest.raises(UnreadableDocument) as refusal:
        installation.load(changed(tmp_path, change))
    faults = {fault.key: fault.says for fault in refusal.value.faults}
    assert key in faults, faults
    assert says in faults[key]


STAT = 'thermostat = { breaks = "75 degC", makes = "67 degC" }'
CONTROL = 'control = { starts = "7 K", stops = "3 K"'
UPPER = 'high = { from = 0.66, to = 0.72, power = "3 kW", thermostat = { breaks = "60 degC", makes = "54 degC" }'
LOWER = 'low = { from = 0.08, to = 0.14, power = "3 kW", thermostat = { breaks = "65 degC", makes = "58 degC" }'
PV = '[pv]\npeak = "3 kW"\nslope = "45 degree"\nazimuth = "160 degree"\nhouse = "300 W"\n'
LEAK = '[heat_leak]\noutput = "1.5 kW"\nrise = "2 m"\ntube = "28 mm"\nlength = "10 m"\nfittings = 12\n'
VESSEL = '\n[vessel]\nvolume = "25 litre"\ncharge = "0.8 bar gauge"\nfill = "1.1 bar gauge"\n'
BRANCH = 'branches = "22 mm" }\n'


@pytest.mark.parametrize(
    ("site", "old", "new", "key", "says"),
    [
        (LARKRIGG, 'least = "9 kW"', 'least = "19 kW"', "boiler", "'least' must not be above 'output'; got 19000 and"),
        (LARKRIGG, STAT, STAT.replace("75", "81"), "boiler", "must rise in that order; got 81, 80 and 95 °C"),
        (QUILLBECK, 'flow = "80 degC"', 'flow = "95 degC"', "boiler", "must rise in that order; got 75, 95 and 95 °C"),
        (LARKRIGG, STAT, STAT.replace("67", "75"), "boiler.thermostat", "'makes' must be below 'breaks'; got 75"),
        (LARKRIGG, CONTROL, CONTROL.replace("3 K", "7 K"), "solar.control",
         "'stops' must be below 'starts'; got 7 and 7 K"),
        (QUILLBECK, UPPER, UPPER.replace("0.72", "0.66"), "immersions.high",
         "'to' must be above 'from'; got 0.66 to 0.66"),
        (QUILLBECK, f'{LOWER}, cut_out = "85', f'{LOWER}, cut_out = "65', "immersions.low",
         "the cut-out must be above the thermostat; got 65 and 65 °C"),
        (QUILLBECK, LOWER, LOWER.replace("0.08, to = 0.14", "0.66, to = 0.70"), "immersions",
         "'low' must lie below 'high'; got 0.66 and 0.66"),
        (TANSY, "low = {", "lower = {", "immersions.lower", "is not a key that is known here"),
        (TANSY, 'limit = "50 degC"', 'limit = "40 degC"', "heating.underfloor",
         "'limit' must be above 'mixed'; got 40 and 40 °C"),
        (LARKRIGG, 'return = "40 degC", room', 'return = "60 degC", room', "heating.radiators",
         "must fall in that order; got 60, 60 and 20"),
        (LARKRIGG, "[store.connections]", 'stratifiers = ["solar_flow"]\n[store.connections]', "store",
         "stratifiers names 'solar_flow', which is not among the connections"),
        (LARKRIGG, 'wiring = "pipe thermostat"\nstore_limit = { breaks = "80 degC", makes = "75 degC" }',
         'wiring = "pipe thermostat and store limit"', "burner", "needs the key 'store_limit'"),
        (QUILLBECK, 'breaks = "8 degC", makes = "6 degC"', 'breaks = "6 degC", makes = "8 degC"', "heating.frost",
         "breaks on the rise, so 'makes' must be below 'breaks'; got 8 and 6"),
        (LARKRIGG, 'enough_heat = { makes = "45', 'enough_heat = { makes = "38', "heating.enough_heat",
         "makes on the rise, so 'breaks' must be below 'makes'; got 38 and 38"),
        (TANSY, PV, "", "file", "there is [immersions] but no [pv]: surplus PV is what feeds them"),
        (TANSY, PV, f"{LEAK}{PV}", "file", "there is [heat_leak] but no [burner]: it is the burner that heats it"),
        (LARKRIGG, BRANCH, f"{BRANCH}{VESSEL}", "file", "[vessel] belongs to a sealed system; this one is vented"),
        (TANSY, VESSEL, '\n[cistern]\nvolume = "70 litre"\n', "file", "[cistern] belongs to a vented system; this one"),
        (LARKRIGG, "top = 0.92\n", "", "file", "store.sensors lacks 'top' (for the pictures)"),
        (LARKRIGG, "middle = 0.50\n", "", "file", "store.sensors lacks 'middle' (for the enough-heat thermostat)"),
        (LARKRIGG, "lower = 0.12\n", "", "file", "store.sensors lacks 'lower' (for the solar control)"),
        (LARKRIGG, "boiler_thermostat = 0.65\n", "", "file", "store.sensors lacks 'boiler_thermostat' (for"),
        (QUILLBECK, "store_limit = 0.82\n", "", "file", "store.sensors lacks 'store_limit' (for the store limit)"),
        (TANSY, "high_limit = 0.50\n", "", "file", "store.sensors lacks 'high_limit' (for the high limit)"),
        (TANSY, "boiler_flow = 0.95", "boiler_flow = 0.95\nburner_flow = 0.45", "file",
         "store.connections has 'burner_flow', which nothing in this file joins"),
        (LARKRIGG, 'flow = "120 litre/hour"', 'glycol = 0.6', "solar.glycol", "must be 0.5 or less; got 0.6"),
        (LARKRIGG, 'tube = "28 mm", length = "12 m"', 'tube = "25 mm", length = "12 m"', "burner.primaries.tube",
         "28 mm"),
    ],
)  # fmt: skip
def test_settings_that_cannot_stand_together_are_refused_with_their_key(tmp_path, site, old, new, key, says):
    with pytest.raises(UnreadableDocument) as refusal:
        installation.load(changed(tmp_path, (old, new), site=site))
    faults = {fault.key: fault.says for fault in refusal.value.faults}
    assert key in faults, faults
    assert says in faults[key]


def test_immersions_without_a_heater_are_refused(tmp_path):
    text = TANSY.read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith("low = {"))
    with pytest.raises(UnreadableDocument, match="immersions: needs 'low' or 'high', or both"):
        installation.load(changed(tmp_path, (line, ""), site=TANSY))


@pytest.mark.parametrize(
    ("site", "old", "new"),
    [
        (LARKRIGG, "store_limit = 0.80\n", ""),
        (LARKRIGG, "upper = 0.72\n", ""),
        (LARKRIGG, 'store_limit = { breaks = "80 degC", makes = "75 degC" }\n', ""),
        (LARKRIGG, STAT, STAT.replace("75", "80")),
        (TANSY, VESSEL, ""),
        (LARKRIGG, 'least = "9 kW"', 'least = "18 kW"'),
    ],
    ids=[
        "limit not wired",
        "diagnostic sensor",
        "limit not set",
        "thermostat at the flow",
        "no vessel",
        "least at output",
    ],
)
def test_what_is_not_needed_may_be_left_out_and_what_is_equal_may_stand(tmp_path, site, old, new):
    assert installation.load(changed(tmp_path, (old, new), site=site)).format == 1


def test_the_line_is_that_of_the_key(tmp_path):
    path = changed(tmp_path, ('overrun = "5 minute"', 'overrun = "5 metre"'))
    line = next(n for n, text in enumerate(path.read_text(encoding="utf-8").splitlines(), 1) if "overrun" in text)
    with pytest.raises(UnreadableDocument, match=f"changed.toml, line {line}: boiler.overrun"):
        installation.load(path)


def test_every_fault_is_told_at_once(tmp_path):
    path = changed(tmp_path, ('room = "15 degC"', 'room = "15 litre"'), ('output = "18 kW"', 'output = "18"'))
    with pytest.raises(UnreadableDocument) as refusal:
        installation.load(path)
    assert [fault.key for fault in refusal.value.faults] == ["store.room", "boiler.output"]


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(UnreadableDocument, match="there is no such file"):
        installation.load(tmp_path / "nowhere.toml")
