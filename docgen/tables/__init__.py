"""Figures from outside the project, each with its source beside it.

Any phase may import them; they import only `units` and `problems`.
"""
