"""Many drawings at once: a bad one never stops the others."""
