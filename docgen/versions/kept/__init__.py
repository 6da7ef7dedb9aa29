"""Issued versions kept in plain folders, and the codes that name them."""
