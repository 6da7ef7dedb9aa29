"""Versions: issuing a spec, comparing two, tracing a page back, and printing only what changed.

It stands beside the phases and uses them. Its rooms are kept (the register), compared, traced and site; they are imported
one by one, so that making a packet loads no more of them than it needs.
"""
