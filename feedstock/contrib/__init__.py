"""For people who write tables."""
