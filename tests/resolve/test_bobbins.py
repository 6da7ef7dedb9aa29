"""What a bobbin and a spool hold, where the spec says so."""

PIECE = '[pieces.a]\nof = "body"\nshape = "rectangle"\nsize = ["100 mm", "50 mm"]\n'
STITCH = '[stitches.light]\nby = "machine"\nthread = "Tex 70 nylon"\npitch = "3 mm"\ninset = "4 mm"\n'


def test_a_bobbin_and_a_spool_are_read_as_running_lengths(resolve_text) -> None:
    """1500 yd are 1371.6 m (1 yd = 0.9144 m, exact)."""
    build = resolve_text(f'{STITCH}bobbin = "40 m"\nspool = "1500 yd"\n{PIECE}')
    light = next(stitch for stitch in build.stitches if stitch.name == "light")
    assert (light.bobbin_mm, light.spool_mm) == (40_000, 1_371_600)


def test_other_lengths_are_told_whole(messages) -> None:
    assert messages(f'{STITCH}bobbin = "40 kg"\nspool = "0 m"\n{PIECE}') == (
        'a.toml:19: error: "kg" measures a weight, and a length is wanted\n'
        '    written: "40 kg"\n'
        '    mend:    write it like "250 m" or "275 yd"\n'
        'a.toml:20: error: "0 m" is no running length\n'
        '    written: "0 m"\n'
        "    mend:    write a length above 0 and up to 100 km\n"
    )
