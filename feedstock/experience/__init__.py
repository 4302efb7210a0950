"""Own batches: records, forecasts, and what they teach."""
