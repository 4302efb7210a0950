"""Woods of warm gardens, as tables for feedstock."""
