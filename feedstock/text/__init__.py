"""Results in words for people."""
