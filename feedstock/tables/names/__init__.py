"""How names and words of a person are understood."""
