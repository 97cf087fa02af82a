"""A few of the posts that ``tests/posts.py`` makes up by the thousand."""

from __future__ import annotations

from pathlib import Path

from posts import Tried

POSTS = 80


def test_whatever_is_posted_is_answered_and_leaves_nothing_outside(tmp_path: Path) -> None:
    tried = Tried.at(tmp_path)
    ended = [tried.one(number) for number in range(POSTS)]
    assert [told for _, told in ended if told] == []
    assert {"200", "422"} <= {kind for kind, _ in ended}
