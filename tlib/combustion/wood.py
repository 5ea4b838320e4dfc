"""Wood by its moisture: what a kilogram as weighed will give."""

from tlib.compiled import kernel
from tlib.validation import require

__all__ = ["moisture_dry_basis", "moisture_wet_basis", "net_calorific_value", "net_from_gross"]

WETTEST = 0.7
"""Moisture on the wet basis beyond which nothing burns that is sold as wood; green wood seldom passes 0.6."""

_WATER_OF_HYDROGEN = 18.015 / 2.016  # kilograms of water for each kilogram of hydrogen


@kernel
def bare_net_calorific_value(moisture, dry, latent):
    """Return dry matter's heat less the heat that boils the water away [J/kg]."""
    return dry * (1.0 - moisture) - latent * moisture


def net_calorific_value(moisture, dry=19.0e6, latent=2.44e6):
    """Net calorific value of wood as fired.

    Parameters
    ----------
    moisture : array_like
        Water over the whole weight, wet basis [-]; 0 to 0.7.
    dry : array_like, optional
        Net calorific value of the dry matter [J/kg]; above 0. Most wood lies between 18 and 19.5 MJ/kg.
    latent : array_like, optional
        Heat that turns the water to vapour [J/kg]; 0 or more.

    Returns
    -------
    float or ndarray
        Net calorific value [J/kg], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    ``dry (1 - moisture) - latent moisture``: the heat per kilogram as weighed, with the water leaving as vapour.

    References
    ----------
    [EN ISO 18125] conversion from the dry basis to the basis as received.
    [TFZ wood] table of net calorific value against water content.

    Examples
    --------
    Logs of 20 % moisture hold about 4.1 kWh a kilogram.

    >>> print(f"{net_calorific_value(0.20) / 3.6e6:.2f} kWh/kg")
    4.09 kWh/kg
    """
    moisture = require(moisture, "moisture", "of the wet weight", at_least=0, at_most=WETTEST)
    dry = require(dry, "dry net calorific value", "J/kg", above=0)
    latent = require(latent, "latent heat", "J/kg", at_least=0)
    return bare_net_calorific_value(moisture, dry, latent)


def net_from_gross(gross, hydrogen, moisture=0.0, latent=2.443e6):
    """Net calorific value as fired, from the gross value of the dry fuel.

    Parameters
    ----------
    gross : array_like
        Gross calorific value of the dry fuel [J/kg]; above 0.
    hydrogen : array_like
        Hydrogen in the dry fuel, mass share [-]; 0 to 1.
    moisture : array_like, optional
        Water over the whole weight, wet basis [-]; 0 to 0.7.
    latent : array_like, optional
        Heat that turns water to vapour at 25 °C [J/kg]; 0 or more.

    Returns
    -------
    float or ndarray
        Net calorific value [J/kg], in the common shape of the inputs.

    Raises
    ------
    OutOfRange
        If an input is outside the range above, or is not finite.

    Notes
    -----
    Each kilogram of hydrogen makes 8.936 kg of water, which leaves as vapour beside the moisture itself. Some books
    round to 9.01 or 9; we take the atomic weights.

    References
    ----------
    [EN ISO 18125] conversion of gross to net, without its small terms for oxygen and nitrogen at constant pressure.

    Examples
    --------
    >>> print(f"{net_from_gross(20.3e6, hydrogen=0.062, moisture=0.20) / 1e6:.1f} MJ/kg")
    14.7 MJ/kg
    """
    gross = require(gross, "gross calorific value", "J/kg", above=0)
    hydrogen = require(hydrogen, "hydrogen", "of the dry fuel", at_least=0, at_most=1)
    moisture = require(moisture, "moisture", "of the wet weight", at_least=0, at_most=WETTEST)
    latent = require(latent, "latent heat", "J/kg", at_least=0)
    return bare_net_calorific_value(moisture, gross - latent * _WATER_OF_HYDROGEN * hydrogen, latent)


def moisture_dry_basis(wet_basis):
    """Moisture on the dry basis: water over the weight of the dry wood.

    Parameters
    ----------
    wet_basis : array_like
        Water over the whole weight [-]; 0 or more, below 1.

    Returns
    -------
    float or ndarray
        Moisture on the dry basis [-], in the shape of the input.

    Raises
    ------
    OutOfRange
        If the input is outside the range above, or is not finite.

    References
    ----------
    [EN ISO 18134] definitions of moisture.

    Examples
    --------
    >>> print(f"{moisture_dry_basis(0.20):.2f}")
    0.25
    """
    wet_basis = require(wet_basis, "moisture", "of the wet weight", at_least=0, below=1)
    return wet_basis / (1.0 - wet_basis)


def moisture_wet_basis(dry_basis):
    """Moisture on the wet basis: water over the whole weight.

    Parameters
    ----------
    dry_basis : array_like
        Water over the weight of the dry wood [-]; 0 or more.

    Returns
    -------
    float or ndarray
        Moisture on the wet basis [-], in the shape of the input.

    Raises
    ------
    OutOfRange
        If the input is outside the range above, or is not finite.

    References
    ----------
    [EN ISO 18134] definitions of moisture.

    Examples
    --------
    >>> print(f"{moisture_wet_basis(0.25):.2f}")
    0.20
    """
    dry_basis = require(dry_basis, "moisture", "of the dry weight", at_least=0)
    return dry_basis / (1.0 + dry_basis)
