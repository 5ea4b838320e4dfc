"""Hot water stays on top: how layers order themselves, and how well a store keeps them apart.

Layers are counted from the bottom (place 0) to the top, and all hold the same mass unless masses are given. They
stand on the last axis of an array, so a whole day of profiles, (time, layer), is measured in one call.
"""

from tlib.stratification.inversions import merge_inversions, merged
from tlib.stratification.profile import mix_number, richardson_number, stratification_number, thermocline_thickness
from tlib.stratification.worth import discharge_efficiency, exergy, stratification_efficiency, usable_heat

__all__ = [
    "discharge_efficiency", "exergy", "merge_inversions", "merged", "mix_number", "richardson_number",
    "stratification_efficiency", "stratification_number", "thermocline_thickness", "usable_heat",
]  # fmt: skip
