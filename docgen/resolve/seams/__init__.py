"""Seams and joins: sides matched, lengths solved, stitches and holes spread."""
