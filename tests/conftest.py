"""How the properties are tried: the same cases everywhere, so that a change alone can make a test fail.

To look for new cases: pytest --hypothesis-profile search
"""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("steady", deadline=None, derandomize=True, max_examples=40, report_multiple_bugs=False)
settings.register_profile("search", deadline=None, max_examples=400)
settings.load_profile("steady")
