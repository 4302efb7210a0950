"""Putting results into words. Nothing is computed here that a result does not hold."""
