"""Tags of sheets that are too full for them: on a page of their own, to be cut out and stuck on."""
from docgen.pages.marks.page import Page
def draw_slips(*args) -> tuple[Page, ...]:
    return ()
