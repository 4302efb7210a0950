"""From files to checked rows."""
