"""Pictures, each a function that returns its drawing, its sentence and its table from the same data."""
