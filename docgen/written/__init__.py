"""Quantities as people write them: lengths, weights, threads and arithmetic on measures, read and told."""
