"""From a printed code, a PDF or a photo back to its version."""
