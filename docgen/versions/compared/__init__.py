"""Two builds compared in a maker's terms: what changed, what to cut and print again."""
