"""Long work: planned days, sheets, sets handed out; done by one process of its own."""
