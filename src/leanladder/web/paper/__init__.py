"""Pages: paper."""
