"""Domain to and from JSON and TOML, by versioned schema; knows domain and units."""
