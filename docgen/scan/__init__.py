"""A photo of a hide with a square of known size beside it -> its outline in mm. Loaded only by `docgen scan`.

Needs numpy, of the extra packages of `docgen[scan]`. All points are x to the right and y down, in pixels, until they are
rectified; then y goes up, in mm.
"""
