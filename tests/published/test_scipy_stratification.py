"""SciPy's integrals and special functions: an independent library for the measures of a stratified store."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import erf, erfinv, gammaincc

from tlib import stratification

# Exergy of 300 kg at 4.18 kJ/(kg K) against 10 °C; the linear profile by quad, which equals the closed form of
# [Rosen 2001] / kJ. All three hold 50 160 kJ.
EXERGY = [(20 + 60 * (np.arange(1000) + 0.5) / 1000, 3752.5), ([50.0], 3241.1), ([20.0, 80.0], 4777.8)]

# Thickness 4 erfinv(0.8) root(alpha t) of a step that conducts, alpha = 1.6e-7 m2/s: hours, m. [Carslaw 1959]
THERMOCLINE = [(1, 0.0870), (6, 0.2131), (12, 0.3014), (24, 0.4262)]

# N stirred layers in series, outlet after 0.8, 1.0 and 1.2 store volumes: Q(N, N tau).
TANKS = [(2, (0.52493, 0.40601, 0.30844)), (5, (0.62884, 0.44049, 0.28506)), (10, (0.71662, 0.45793, 0.24239))]


def middles(count):
    return (np.arange(count) + 0.5) / count


@pytest.mark.evidence("published", "stratification.exergy")
@pytest.mark.parametrize(("layers", "kilojoule"), EXERGY)
def test_exergy_of_a_profile(layers, kilojoule):
    computed = stratification.exergy(layers, 300.0, dead_state=10.0, specific_heat=4180.0)
    assert computed / 1e3 == pytest.approx(kilojoule, abs=0.1)


@pytest.mark.evidence("published", "stratification.exergy")
@pytest.mark.parametrize("ends", [(15.0, 90.0), (4.0, 8.0), (9.9999, 10.0001)])
def test_exergy_by_the_integral_of_the_carnot_share(ends):
    """Heat at T could do 1 - T0/T of its amount; summed by quad from the dead state to each layer's temperature."""
    layers = np.linspace(*ends, 5)
    worth = [quad(lambda kelvin: 1 - 283.15 / kelvin, 283.15, t + 273.15, epsabs=0)[0] for t in layers]
    assert stratification.exergy(layers, 1.0, 10.0, 1.0) == pytest.approx(np.mean(worth), rel=1e-8)


@pytest.mark.evidence("published", "stratification.mix_number")
@pytest.mark.parametrize("steepness", [0.5, 3.0, 12.0])
def test_mix_number_by_integrals_of_a_smooth_profile(steepness):
    def profile(height):
        return 50 + 28 * np.tanh(steepness * (height - 0.4))

    heat, moment = quad(profile, 0, 1)[0], quad(lambda height: height * profile(height), 0, 1)[0]
    edge = 1 - (heat - 20) / 60
    two_zones = 20 / 2 + 60 * (1 - edge**2) / 2
    computed = stratification.mix_number(profile(middles(1000)), cold=20, hot=80)
    assert computed == pytest.approx((two_zones - moment) / (two_zones - heat / 2), abs=1e-5)


@pytest.mark.evidence("published", "stratification.thermocline_thickness")
@pytest.mark.parametrize(("hours", "metres"), THERMOCLINE)
def test_thickness_of_a_conducting_step(hours, metres):
    root = np.sqrt(1.6e-7 * hours * 3600)
    height = 2.0 * (middles(2000) - 0.5)
    layers = 50 + 30 * erf(height / (2 * root))
    computed = stratification.thermocline_thickness(layers, 2.0, cold=20, hot=80)
    assert computed == pytest.approx(metres, abs=1e-4)
    assert computed == pytest.approx(4 * erfinv(0.8) * root, rel=1e-4)


@pytest.mark.evidence("published", "stratification.discharge_efficiency")
@pytest.mark.parametrize(("tanks", "printed"), TANKS)
def test_heat_drawn_from_stirred_layers_in_series(tanks, printed):
    """What came out is the integral of Q(N, N tau), until the outlet has fallen to the printed share."""
    assert gammaincc(tanks, tanks * np.array([0.8, 1.0, 1.2])) == pytest.approx(np.array(printed), abs=1e-5)
    step = 1 / 4000
    volumes = np.arange(step / 2, 2.0, step)
    outlet = 10 + 50 * gammaincc(tanks, tanks * volumes)
    for volume, share in zip((0.8, 1.0, 1.2), printed, strict=True):
        computed = stratification.discharge_efficiency(outlet, 300 * step, [60, 60], 300, 10, 10 + 50 * share)
        assert computed == pytest.approx(quad(lambda x: gammaincc(tanks, tanks * x), 0, volume)[0], abs=5e-4)


@pytest.mark.evidence("published", "stratification.stratification_number")
def test_stratification_number_by_the_fitted_gradient_of_straight_profiles():
    """[Fernandez-Seara 2007]; for straight profiles the mean gradient is the slope that numpy.polyfit finds."""
    now, start = 35 + 30 * middles(40), 20 + 60 * middles(40)
    slopes = [np.polyfit(middles(40), profile, 1)[0] for profile in (now, start)]
    assert stratification.stratification_number(now, start) == pytest.approx(slopes[0] / slopes[1], rel=1e-12)
