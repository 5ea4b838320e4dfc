"""A column of equal layers: which layer stands at a height, and how a part that spans several is shared out."""

import numpy as np

from tlib.validation import require

__all__ = ["layer_at", "spanned_shares"]


def layer_at(height, layers):
    """Return the number of the layer at a height.

    Parameters
    ----------
    height : float
        From 0 (bottom) to 1 (top).
    layers : int
        How many layers.

    Returns
    -------
    int
        Counted from the bottom; a height on a face belongs to the layer above it.

    Examples
    --------
    >>> layer_at(0.0, 50), layer_at(0.45, 50), layer_at(1.0, 50)
    (0, 22, 49)
    """
    require(height, "height", "of the store", at_least=0, at_most=1)
    return min(int(height * layers + 1e-9), layers - 1)


def spanned_shares(bottom, top, layers):
    """Return the share of a coil or element that lies in each layer.

    Parameters
    ----------
    bottom, top : float
        Heights of its two ends, 0 to 1.
    layers : int
        How many layers.

    Returns
    -------
    ndarray, (layers,)
        Shares that add up to 1.

    Examples
    --------
    >>> spanned_shares(0.0, 0.5, 4).tolist()
    [0.5, 0.5, 0.0, 0.0]
    """
    require(bottom, "the coil's lower end", "of the store", at_least=0, below=1)
    require(top, "the coil's upper end", "of the store", above=bottom, at_most=1)
    faces = np.linspace(0.0, 1.0, layers + 1)
    inside = np.minimum(faces[1:], top) - np.maximum(faces[:-1], bottom)
    shares = np.maximum(inside, 0.0) / (top - bottom)
    return shares / shares.sum()
