"""`docgen site`"""

from docgen.calls.asked import SiteCall
from docgen.cli.telling import DONE, make_progress, say

ABOUT = """\
Write small web pages, one for every page that was printed of an issued version, to where its code
leads when the spec names a [shop] link: what it is, whether it is current, and what changed. The code
of a care card leads to a page for the customer: care, repair and contact, in the card's language. Put
the folder on any plain web server. Prices, times and notes on what is bought are never in it.

  docgen site public --from specs
  docgen site public --from specs --pdfs
"""
ASKED = SiteCall


def run(asked: SiteCall) -> int:
    """Write the web pages, and tell where they belong."""
    from docgen.calls.site import publish_site
    from docgen.versions.site.site import describe_site

    outcome = publish_site(asked, make_progress())
    say(describe_site(outcome))
    return DONE
