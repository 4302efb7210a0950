"""The plan of a burn: vessel, loads, order, quench, and what to gather."""
