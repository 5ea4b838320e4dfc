"""A bar that tells how far a long run has come."""

import ipywidgets as widgets

__all__ = ["ProgressBar"]


class ProgressBar:
    """A bar with its words; call it with the share that is done, as `tlib.simulation.simulate` does.

    Parameters
    ----------
    words : str
        What is being done, such as ``"A year at Larkrigg Farm"``.

    Attributes
    ----------
    widget : ipywidgets.Widget
        To show.
    """

    def __init__(self, words):
        self.bar = widgets.FloatProgress(min=0.0, max=1.0, description="", tooltip=words)
        self.said = widgets.HTML()
        self.words = words
        self.widget = widgets.HBox([self.said, self.bar])
        self(0.0)

    def __call__(self, share):
        """Show the share that is done, 0 to 1, as a bar and in words."""
        self.bar.value = share
        state = "done" if share >= 1.0 else f"{100.0 * share:.0f} % done"
        self.said.value = f'<span role="status">{self.words}: {state}</span>'
