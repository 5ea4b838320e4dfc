"""The chain as layers: what each needs, and what is left under each fault. Common practice, no source."""

import pytest

from tlib import installation, tables
from tlib.safety import FAULTS, LAYERS, chain_is_complete, layers_left
from tlib.validation import OutOfRange

SITES = tables.shipped("workbooks") / "sites"
LARKRIGG, QUILLBECK, TANSY = (installation.load(SITES / f"{name}.toml") for name in ("larkrigg", "quillbeck", "tansy"))


def left(site, *faults):
    return "".join(layer.number for layer in layers_left(site, faults) if layer.is_left)


def with_valve_in_store(site):
    valve = site.safety.thermal_valve.model_copy(update={"sensor": "store top"})
    return site.model_copy(update={"safety": site.safety.model_copy(update={"thermal_valve": valve})})


@pytest.mark.parametrize(
    ("faults", "expected"),
    [
        ((), "01234567E"),
        (("power cut",), "02567E"),
        (("charge pump dead",), "023567E"),
        (("loading valve stuck shut",), "023567E"),
        (("loading valve stuck open",), "01234567E"),
        (("high limit fails open",), "0123567E"),
        (("zone valve stuck shut",), "012567E"),
        (("mains off",), "0123467E"),
        (("thermal valve seized shut",), "0123467E"),
        (("heat leak air-locked",), "0134567E"),
        (("power cut", "heat leak air-locked"), "0567E"),
        (("power cut", "heat leak air-locked", "mains off"), "067E"),
    ],
)
def test_what_is_left_at_larkrigg(faults, expected):
    assert left(LARKRIGG, *faults) == expected


def test_a_valve_that_feels_the_store_is_no_layer_for_a_burner_without_its_pump():
    assert "5" in left(with_valve_in_store(LARKRIGG))
    assert "5" not in left(with_valve_in_store(LARKRIGG), "charge pump dead")
    assert "5" in left(LARKRIGG, "charge pump dead")


def test_without_a_fire_there_is_little_to_guard():
    assert left(TANSY) == "3467E"


def test_a_reason_stands_beside_every_layer():
    for site in (LARKRIGG, QUILLBECK, TANSY):
        for fault in FAULTS:
            for layer in layers_left(site, [fault]):
                assert layer.says.endswith(".")
                assert layer.name == LAYERS[layer.number].name


def test_two_unpowered_layers_make_a_chain_complete_and_one_needs_no_mains():
    assert chain_is_complete(LARKRIGG)
    assert chain_is_complete(TANSY)
    bare = LARKRIGG.safety.model_copy(update={"thermal_valve": None})
    assert chain_is_complete(LARKRIGG.model_copy(update={"safety": bare}))  # the leak and the vent
    assert not chain_is_complete(LARKRIGG.model_copy(update={"safety": bare, "heat_leak": None}))
    assert chain_is_complete(LARKRIGG.model_copy(update={"heat_leak": None}))  # the thermal valve and the vent


def test_a_sealed_fire_needs_leak_valve_and_relief():
    sealed = LARKRIGG.model_copy(update={"system": "sealed", "vessel": TANSY.vessel})
    assert chain_is_complete(sealed)
    assert not chain_is_complete(sealed.model_copy(update={"heat_leak": None}))
    assert not chain_is_complete(sealed.model_copy(update={"vessel": None}))


def test_an_unknown_fault_is_refused():
    with pytest.raises(OutOfRange, match="no fault is known by the name 'gremlins'"):
        layers_left(LARKRIGG, ["gremlins"])
