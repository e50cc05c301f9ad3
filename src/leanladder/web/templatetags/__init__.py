"""Tags of the pages."""
