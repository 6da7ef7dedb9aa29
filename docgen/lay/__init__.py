"""Plan -> Lay: where the templates of a cutting list lie on hides, panels or a roll. Advice to look at beside the hide.

Loaded only where a lay is asked for. Only what is exported here may be used by later phases.
"""

from docgen.lay.drawn import drawn_hide, typical_hide
from docgen.lay.hides import Hide, Shape, is_inside, outline_area, usual_hide
from docgen.lay.lay import LaidSheet, Lay, Placed, lay_boxes, lay_hides, lay_material, lay_usual
from docgen.lay.parts import Part, list_parts
from docgen.lay.search import Effort
