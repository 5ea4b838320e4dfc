"""A box that draws its pictures once it is on the page, so that a learner first sees what it is about."""

import ipywidgets as widgets

__all__ = ["Page"]


class Page(widgets.VBox):
    """A box that is drawn once it is on the page."""

    def __init__(self, children, draw):
        super().__init__(children)
        self._draw = draw

    def _ipython_display_(self):
        from IPython.display import publish_display_data

        publish_display_data(self._repr_mimebundle_())
        self._draw()
