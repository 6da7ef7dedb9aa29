"""The layout files: measures, words and the order of blocks, read and checked."""
