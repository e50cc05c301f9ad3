"""Pages: briefing."""
