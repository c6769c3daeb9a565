"""Mixes: proportions, density and what is weighed."""
