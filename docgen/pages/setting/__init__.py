"""Setting of pages: blocks that flow, the frame round them, tags and codes, and what a call asks for."""
