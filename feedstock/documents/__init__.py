"""Strict YAML, JSON and CSV with the position of every value."""
