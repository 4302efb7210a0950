"""Rows of methods, by subject."""
