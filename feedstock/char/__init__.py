"""What the char is made of, and how long its carbon lasts."""
