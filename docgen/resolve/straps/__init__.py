"""Straps: cut lengths, ends, keepers."""
