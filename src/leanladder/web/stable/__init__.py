"""Pages: stable."""
