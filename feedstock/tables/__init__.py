"""Reference data: reading, laying over each other and looking up table sets."""
