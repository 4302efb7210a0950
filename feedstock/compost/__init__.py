"""Char in compost, and on beds."""
