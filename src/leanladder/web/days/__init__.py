"""Pages: days."""
