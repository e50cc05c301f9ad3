"""Pages as PDF, from what stands on paper."""
