"""What keeps an installation safe: the order of its settings, its layers, and the faults they are there for.

Passing a check here makes no installation safe: the appliance instructions and the local code outrank it, and a
licensed or registered person does or checks the work.
"""

from tlib.safety.faults import FAULTS, FaultKind
from tlib.safety.ladder import Finding, settings_ladder
from tlib.safety.layers import LAYERS, Layer, chain_is_complete, layers_left

__all__ = [
    "FAULTS", "LAYERS", "FaultKind", "Finding", "Layer", "chain_is_complete", "layers_left", "settings_ladder",
]  # fmt: skip
