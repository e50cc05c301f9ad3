"""The paddock app: pages for the laptop and the phones around it."""
