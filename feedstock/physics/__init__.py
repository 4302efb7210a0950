"""Pure functions on plain floats (or arrays) in SI units; every coefficient comes in as an argument
from a table.
"""
