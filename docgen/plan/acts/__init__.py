"""Steps -> what is done in each, line by line in the order of the work, as cases of [step] in layouts/sentences.toml.

Figures are formatted here; the words round them are the layout's.
"""

from docgen.plan.acts.events import step_acts, untold_waits
from docgen.plan.acts.good import good_acts
from docgen.plan.acts.straps import turned_by
from docgen.plan.acts.take import take_acts
from docgen.plan.acts.tools import step_tools
from docgen.plan.acts.work import Work, list_work_of

__all__ = ["Work", "good_acts", "list_work_of", "step_acts", "step_tools", "take_acts", "turned_by", "untold_waits"]
