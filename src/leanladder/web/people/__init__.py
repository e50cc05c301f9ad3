"""Who uses the app: first start, signing in, coaches."""
