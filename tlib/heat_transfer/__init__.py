"""Heat on its way: films, walls, coils and exchangers, standing loss, radiators and floors."""

from tlib.heat_transfer.exchangers import (
    coil_effectiveness,
    coil_outlet,
    effectiveness_isothermal,
)
from tlib.heat_transfer.standing_loss import stored_heat

__all__ = ["coil_effectiveness", "coil_outlet", "effectiveness_isothermal", "stored_heat"]
