"""Sizes from a few readings: room left in a store, logs tonight, hours until full, and the store that a fire needs.

Each sum can also be had with its working: a `Line` names a step, says its rule in words and in numbers, and holds its
value. Panels and papers print these lines, so nothing that a learner reads is worked twice.
"""

from tlib.sizing.buffers import SMALLEST_BUFFER, buffer_is_enough, buffer_working, least_buffer
from tlib.sizing.layers import stirring_working
from tlib.sizing.lines import Line
from tlib.sizing.logs import evening_working, headroom, logs_tonight, time_until_full
from tlib.sizing.losses import standing_working
from tlib.sizing.stored import full_store_working

__all__ = [
    "SMALLEST_BUFFER",
    "Line",
    "buffer_is_enough",
    "buffer_working",
    "evening_working",
    "full_store_working",
    "headroom",
    "least_buffer",
    "logs_tonight",
    "standing_working",
    "stirring_working",
    "time_until_full",
]
