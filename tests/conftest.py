"""How the properties are tried: the same cases everywhere, so that a change alone can make a test fail.

To look for new cases, or to see one that fails made as small as can be: pytest --hypothesis-profile search
"""

from __future__ import annotations

from hypothesis import Phase, settings

settings.register_profile(
    "steady",
    deadline=None,
    derandomize=True,
    max_examples=25,
    report_multiple_bugs=False,
    phases=[Phase.explicit, Phase.generate],
)
settings.register_profile("search", deadline=None, max_examples=400)
settings.load_profile("steady")
