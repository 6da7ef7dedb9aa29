"""Issued versions kept in plain folders, and the codes that name them."""

REGISTER = "issued"
"""The folder of the register, beside the spec."""
