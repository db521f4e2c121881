"""Names of drawings stand where they point, unless a test asks for them in their places.

To find room for them takes most of the time that a drawing takes.
"""

import pytest


@pytest.fixture
def placed_names():
    """Names in their places."""


@pytest.fixture(autouse=True)
def _cheap_names(request):
    if not {"placed_names", "views", "printed"} & set(request.fixturenames):
        request.getfixturevalue("plain_names")
