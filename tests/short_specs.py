"""Short pieces of specs that tests put together: lengths in mm, stitch and materials by the names of the head."""


def piece(name: str, width: float, height: float, more: str = "", of: str = "body") -> str:
    return f'[pieces.{name}]\nof = "{of}"\nshape = "rectangle"\nsize = ["{width} mm", "{height} mm"]\n{more}'


def seam(name: str, *partners: str, more: str = "") -> str:
    listed = ", ".join(f'"{partner}"' for partner in partners)
    return f'[seams.{name}]\nstitch = "main"\nmeet = [{listed}]\n{more}'


def step(do: str, **keys: str) -> str:
    """One step; `keys` are lists of names, divided by spaces, in the order in which they are to stand."""
    lines = (
        f"{key} = [{', '.join(f'{chr(34)}{name}{chr(34)}' for name in names.split())}]" for key, names in keys.items()
    )
    return f'[[steps]]\ndo = "{do}"\n' + "".join(f"{line}\n" for line in lines)


def rivet(count: int = 1, name: str = "rivet", what: str = "double-cap rivet") -> str:
    return f'[hardware.{name}]\nwhat = "{what}"\ncount = {count}\nposts = ["6 mm", "8 mm", "10 mm", "12 mm"]\n'


def hole(at: str, takes: str = "rivet", more: str = "") -> str:
    return f'holes = [{{ at = "{at}", punch = "4 mm", takes = "{takes}"{more} }}]\n'
