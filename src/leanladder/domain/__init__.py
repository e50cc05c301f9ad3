"""The trade's words as frozen dataclasses; knows only units."""
