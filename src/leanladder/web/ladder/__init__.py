"""Pages: ladder."""
