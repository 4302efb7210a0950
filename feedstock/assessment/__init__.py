"""From evidence to verdicts."""
