"""How the properties are tried: the same cases everywhere, so that a change alone can make a test fail.

To look for new cases, or to see one that fails made as small as can be: pytest --hypothesis-profile search
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import Phase, settings
from programs import left_out

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


@pytest.fixture(scope="session", autouse=True)
def _no_settings_of_our_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The commands look for a shop file in the user's settings folder: here there is none, whoever runs the tests."""
    empty = str(tmp_path_factory.mktemp("settings"))
    with pytest.MonkeyPatch.context() as patch:
        for variable in ("XDG_CONFIG_HOME", "APPDATA", "HOME"):
            patch.setenv(variable, empty)
        yield


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say what was not checked for want of a program."""
    skipped = terminalreporter.stats.get("skipped", [])
    if line := left_out([report.longrepr[2] for report in skipped if isinstance(report.longrepr, tuple)]):
        terminalreporter.write_line(line, yellow=True)
