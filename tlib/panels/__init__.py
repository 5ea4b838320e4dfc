"""Sliders, predictions and answer boxes: a thin skin over pure functions."""
