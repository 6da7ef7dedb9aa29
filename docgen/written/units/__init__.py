"""Quantities with units: the one table of units, how they are read, and how they are told.

`table` has the everyday units, `other` looks up any other, `finding` asks both; `numbers` and `lengths` read, `telling`
says.
"""
