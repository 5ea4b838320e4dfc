"""A prediction, locked before the panel opens: those who guess first see more, right or wrong."""

import math

import ipywidgets as widgets

from tlib.panels.fields import button, on_enter
from tlib.panels.markup import blank, paragraph, shown, status
from tlib.panels.sitting import CannotSave, saved_at, sitting

__all__ = ["Prediction", "echo"]

_KINDLY = "It stays as it is, so that you can hold it against what you see. A wrong guess costs nothing."


class Prediction:
    """A question that a learner answers for good before the panel opens.

    Parameters
    ----------
    name : str
        The name under which the answer book keeps it, such as ``"evening-fire"``.
    question : str
        What to predict.
    options : sequence of str, optional
        What to choose from. Left out, a number is asked for.
    unit : str, optional
        The unit of the number.
    place : Sitting, optional
        Where it is kept; the page's own by default.

    Attributes
    ----------
    value : str, float or None
        The option or the number [`unit`] that was locked; None until then.
    is_locked : bool
        Whether it is.
    field : ipywidgets.RadioButtons or ipywidgets.Text
        Where it is given.
    lock : ipywidgets.Button
        The button that locks it.
    says : ipywidgets.HTML
        What became of it.
    """

    def __init__(self, name, question, options=(), *, unit="", place=None):
        self.name, self.question, self.options, self.unit = name, question, tuple(options), unit
        self._place, self._told, self.value = place or sitting(), lambda: None, None
        self.field, field = self._choice() if self.options else self._number()
        self.lock = button("Lock my prediction", self._take, "chief")
        self.says = shown(kind="says")
        self._form = widgets.VBox([field, self.lock])
        self._form.add_class("tlib-column")
        self.widget = widgets.VBox([shown(paragraph(question)), self._form, self.says])
        self.widget.add_class("tlib-block")
        self._place.on_switch(self._restore)
        self._restore()

    @property
    def is_locked(self):
        """Whether a prediction is kept that nobody can change any more."""
        return self.value is not None

    def on_change(self, told):
        """Call a function, without arguments, when the prediction is locked or another learner sits down."""
        self._told = told

    def _choice(self):
        field = widgets.RadioButtons(description="Your prediction", options=self.options, value=None)
        field.add_class("tlib-choice")
        return field, field

    def _number(self):
        field = widgets.Text(description="Your prediction", placeholder="a number")
        field.add_class("tlib-field")
        on_enter(field, self._take)
        beside = widgets.HBox([field, shown(paragraph(self.unit), "unit")])
        beside.add_class("tlib-beside")
        return field, beside

    def _take(self):
        if self.is_locked:
            self.says.value = status(f"Your prediction is locked already. {_KINDLY}")
            return
        try:
            given = self._given()
            kept = self._place.record("predicted", prediction=self.name, value=given, unit=self.unit)
        except (_NotYet, CannotSave) as fault:
            self.says.value = status(str(fault))
            return
        self._hold(kept)
        self._told()

    def _given(self):
        if self.options:
            if self.field.value is None:
                raise _NotYet("Choose one first. A guess is enough.")
            return self.field.value
        text = self.field.value.strip().removesuffix(self.unit).strip().replace(",", ".")
        try:
            number = float(text)
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            wanted = f"a number in {self.unit}" if self.unit else "a number"
            raise _NotYet(f"Write {wanted} first. A guess is enough.")
        return number + 0.0  # so that a nought carries no sign

    def _restore(self):
        ours = [e for e in self._place.events() if e["event"] == "predicted" and e.get("prediction") == self.name]
        kept = [event for event in ours if self._answers(event["value"])]
        if kept:
            self._hold(kept[0])
        else:
            self.value, self.says.value = None, ""
            if self._place.before:
                self.field.value = None if self.options else ""
            self._offer(True)
        self._told()

    def _answers(self, value):
        """Return whether a kept value answers this question, and not one that the book asked in an older version."""
        return value in self.options if self.options else isinstance(value, float)

    def _hold(self, kept):
        self.value = kept["value"]
        self.field.value = self.value if self.options else f"{self.value:g}"
        said = self.value if self.options else f"{self.value:g} {self.unit}".strip()
        self.says.value = status(f"You predicted: {said}. Locked at {saved_at(kept)}. {_KINDLY}")
        self._offer(False)

    def _offer(self, offered):
        self.field.disabled = not offered
        blank(self._form, hidden=not offered)


def echo(prediction, unit=""):
    """Return the sentence that reminds a learner of what was locked, for the words of a picture.

    Parameters
    ----------
    prediction : str, float or None
        What was locked.
    unit : str, optional
        The unit of a number.

    Returns
    -------
    str
        Empty if nothing was locked.

    Examples
    --------
    >>> echo("Less than half"), echo(70.0, "°C"), echo(None)
    ('You predicted: less than half.', 'You predicted: 70 °C.', '')
    """
    if prediction is None:
        return ""
    said = f"{prediction[0].lower()}{prediction[1:].rstrip('.')}" if isinstance(prediction, str) else f"{prediction:g}"
    return f"You predicted: {said} {unit}".strip() + "."


class _NotYet(ValueError):
    """Nothing was given that could be locked."""
