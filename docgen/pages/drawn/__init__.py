"""Pieces as drawn: at full size, small, tiny, and for export; where labels find room."""
