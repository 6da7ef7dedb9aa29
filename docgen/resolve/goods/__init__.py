"""Goods: materials, stitches, hardware and where it sits, prices, weights, contents, printing."""
