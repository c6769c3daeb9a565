"""One whole job: drawings, mixes and shop brought together into a bid."""
