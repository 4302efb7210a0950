"""The plan of a burn: the vessel, loads and duration, feeding order, quench, and what to gather for
a wanted amount.
"""
