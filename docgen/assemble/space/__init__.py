"""Assembled -> Space: every copy of every part in its place, by its seams, landings and holes."""

from docgen.assemble.space.place import place_parts as place_parts
from docgen.assemble.space.placed import Space as Space
