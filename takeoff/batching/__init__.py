"""Batches: how a wanted amount is split over a mixer."""
