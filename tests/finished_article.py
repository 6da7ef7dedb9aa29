"""The finished article of a build that was taken apart, as it is drawn, for the tests that look at it."""

from docgen.assemble import TakenApart
from docgen.pages.pictures.article import Article, set_article


def article_of(apart: TakenApart) -> Article:
    found = set_article(apart.closed, apart.build.space.kind, apart.lined)
    assert found is not None
    return found
