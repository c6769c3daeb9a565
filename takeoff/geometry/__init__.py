"""Meshes and outlines as numbers in metres; knows nothing of concrete."""
