"""Plane geometry in mm: shapes, paths, outlines with named edges, parallels, measures, even spacing.

It knows nothing of leather or pages and imports nothing of docgen but its classes.
"""
