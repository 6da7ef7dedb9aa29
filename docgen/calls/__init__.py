"""What one call of the program does, from what was asked to what came of it: a module a call.

`asked` holds the record of each call; clock, current folder and the shop's file come in here and nowhere else.
"""
