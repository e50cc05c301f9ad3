"""Pages: live."""
