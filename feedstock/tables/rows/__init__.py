"""The models of table rows."""
