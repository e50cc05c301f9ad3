"""The first page: the days there are, and what to do next."""
