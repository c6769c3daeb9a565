"""The disk: drawings, TOML files, shipped data and whole-or-absent writing."""
