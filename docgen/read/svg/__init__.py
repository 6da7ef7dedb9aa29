"""Drawings: SVG files and paths in their own units, and the name mark; a stranger's file is only read."""
