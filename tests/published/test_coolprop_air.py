"""CoolProp's air and ht's correlations against the still-air films. Obtained: run at test time. Grade B."""

import ht
import pytest
from CoolProp.CoolProp import PropsSI

from tlib import heat_transfer


def others(surface, air, size, emissivity, nusselt):
    kelvin, film = 273.15, (surface + air) / 2 + 273.15
    conductivity, viscosity, density, specific_heat = (PropsSI(name, "T", film, "P", 101_325, "Air") for name in "LVDC")
    grashof = 9.80665 / film * abs(surface - air) * size**3 * (density / viscosity) ** 2
    convection = nusselt(viscosity * specific_heat / conductivity, grashof) * conductivity / size
    radiation = ht.q_rad(emissivity, surface + kelvin, air + kelvin) / (surface - air)
    return convection + radiation


@pytest.mark.evidence("published", "heat_transfer.still_air_film")
@pytest.mark.parametrize(("surface", "air", "height"), [(25.0, 15.0, 1.26), (80.0, 20.0, 1.7), (5.0, 25.0, 0.5)])
def test_jacket_in_still_air(surface, air, height):
    theirs = others(surface, air, height, 0.9, ht.Nu_vertical_plate_Churchill)
    assert heat_transfer.still_air_film(surface, air, height) == pytest.approx(theirs, rel=0.01)


@pytest.mark.evidence("published", "heat_transfer.still_air_pipe_film")
@pytest.mark.parametrize(("surface", "air", "diameter"), [(75.0, 20.0, 0.022), (30.0, 15.0, 0.072), (165.0, 23.0, 0.1)])
def test_pipe_in_still_air(surface, air, diameter):
    theirs = others(surface, air, diameter, 0.85, ht.Nu_horizontal_cylinder_Churchill_Chu)
    assert heat_transfer.still_air_pipe_film(surface, air, diameter, 0.85) == pytest.approx(theirs, rel=0.01)
