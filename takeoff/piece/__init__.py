"""Surfaces of a piece, and the layers laid on them."""
