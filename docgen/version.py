"""The version of the program; it stands alone, so that every module may name it."""

__version__ = "0.1.0"
