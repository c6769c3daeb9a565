"""One drawing to one measurement: files and piece brought together, with provenance."""
