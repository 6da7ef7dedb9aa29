"""Pieces: outlines by shape, model or drawing, and the marks placed on them."""
