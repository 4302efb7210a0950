"""One lot bound to its row: evidence, amount, moisture, char, elements."""
