"""Results as text and bytes, never paths."""
