"""An installation file is read whole, or refused by file, line and key."""

import pytest

from tlib import installation, tables
from tlib.documents import UnreadableDocument

LARKRIGG = tables.shipped("workbooks") / "sites" / "larkrigg.toml"


def changed(tmp_path, *changes):
    """Write Larkrigg's file with some text replaced; return its path."""
    text = LARKRIGG.read_text(encoding="utf-8")
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
