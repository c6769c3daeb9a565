"""Materials, packs, prices and weight."""
