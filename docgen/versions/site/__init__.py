"""The web pages that codes lead to."""
