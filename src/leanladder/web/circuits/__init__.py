"""Pages: circuits."""
