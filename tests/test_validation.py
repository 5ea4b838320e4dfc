"""What `require` lets pass unchanged, and the sentence for what it refuses."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import array_shapes, arrays

from tlib.validation import OutOfRange, require

EXCUSED = [
    ("published", "validation.require", "a range is stated by each formula, not by a book on ranges"),
    ("conservation", "validation.require", "a check moves no heat or mass"),
]
FINITE = st.floats(allow_nan=False, allow_infinity=False)


@pytest.mark.evidence("limit", "validation.require")
@given(FINITE)
def test_a_number_in_range_passes_unchanged(value):
    for given_as in (value, np.float64(value), np.array(value)):
        passed = require(given_as, "level", "m", at_least=value, at_most=value)
        assert passed == value
        assert isinstance(passed, np.float64)


@given(arrays(float, array_shapes(), elements=FINITE))
def test_an_array_passes_in_its_own_shape(values):
    passed = require(values, "levels", "m", at_least=values.min(), at_most=values.max())
    assert passed.shape == values.shape
    assert np.array_equal(passed, values)


@given(FINITE, FINITE)
def test_an_end_that_is_left_out_is_refused_and_one_that_is_in_is_not(value, end):
    for limit, holds in (
        ("above", value > end), ("at_least", value >= end), ("below", value < end), ("at_most", value <= end),
    ):  # fmt: skip
        for given_as in (value, [value]):
            if holds:
                assert require(given_as, "level", "m", **{limit: end}) == value
            else:
                with pytest.raises(OutOfRange):
                    require(given_as, "level", "m", **{limit: end})


def test_whole_numbers_and_lists_become_floats():
    assert require(3, "count", "").dtype == float
    assert require([1, 2], "counts", "").dtype == float
    assert require([], "counts", "").shape == (0,)
    assert require(np.float32(0.5), "share", "").dtype == float


def test_what_is_passed_on_is_not_the_callers_own_array():
    own = np.array([1.0, 2.0])
    require(own, "levels", "m")[0] = 9.0
    assert own[0] == 1.0


REFUSED = [
    (-3, {"above": 0}, "volume must be above 0 m3; got -3."),
    (0.0, {"above": 0}, "volume must be above 0 m3; got 0."),
    (-0.1, {"at_least": 0}, "volume must be 0 m3 or more; got -0.1."),
    (2.0, {"below": 2}, "volume must be below 2 m3; got 2."),
    (3.1e6, {"at_most": 3e6}, "volume must be 3000000 m3 or less; got 3100000."),
    (float("nan"), {}, "volume must be a finite number; got nan."),
    (float("-inf"), {"at_most": 1}, "volume must be a finite number; got -inf."),
    ([1.0, float("nan")], {}, "volume must be a finite number; got nan at place 1."),
    ([1, 2, -3, -4], {"at_least": 0}, "volume must be 0 m3 or more; got -3 at place 2."),
    ([[1.0, 2.0], [9.0, 2.0]], {"at_most": 5}, "volume must be 5 m3 or less; got 9 at place (1, 0)."),
    (np.array(-2.0), {"at_least": 0}, "volume must be 0 m3 or more; got -2."),
    ("3", {}, "volume must be a number in m3; got '3'."),
    ("much", {}, "volume must be a number in m3; got 'much'."),
    (None, {}, "volume must be a number in m3; got None."),
    (1 + 2j, {}, "volume must be a number in m3; got (1+2j)."),
    ({"litres": 3}, {}, "volume must be a number in m3; got {'litres': 3}."),
    ([1, "b"], {}, "volume must be a number in m3; got [1, 'b']."),
    ([[1], [1, 2]], {}, "volume must be a number in m3; got [[1], [1, 2]]."),
]


@pytest.mark.evidence("error", "validation.require")
@pytest.mark.parametrize(("value", "limits", "sentence"), REFUSED)
def test_the_refusal_names_quantity_rule_and_value(value, limits, sentence):
    with pytest.raises(OutOfRange) as refusal:
        require(value, "volume", "m3", **limits)
    assert str(refusal.value) == sentence


@pytest.mark.parametrize("unit", ["", "-", "[-]"])
def test_a_plain_number_is_refused_without_a_unit(unit):
    with pytest.raises(OutOfRange, match=r"^share must be 1 or less; got 2\.$"):
        require(2, "share", unit, at_most=1)
    with pytest.raises(OutOfRange, match=r"^share must be a number; got 'half'\.$"):
        require("half", "share", unit)


def test_a_refusal_is_also_a_value_error():
    assert issubclass(OutOfRange, ValueError)
