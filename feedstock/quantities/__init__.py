"""Numbers with units: the grammar in which they are written, their intervals, how they look."""
