"""``storystick new``: a job file from options, or from what is typed at a terminal."""

from __future__ import annotations

import tomllib
from pathlib import Path

from terminals import Terminal, run


def test_new_job_without_options_checks_and_prints(tmp_path: Path) -> None:
    done = run(["new", "linen-press"], tmp_path)
    assert done.returncode == 0, done.stderr
    assert "storystick print linen-press.toml" in done.stdout
    assert run(["check", "linen-press.toml"], tmp_path).stdout.startswith("linen-press.toml: no faults. Linen press,")
    assert run(["print", "linen-press.toml"], tmp_path).returncode == 0
    assert (tmp_path / "linen-press-print" / "strips.pdf").exists()


def test_options_stand_in_the_file_as_typed(tmp_path: Path) -> None:
    done = run(
        ["new", "press.toml", "--height", "6'", "--width", "40 1/2", "--ply", "45/64", "--openings", "7"], tmp_path
    )
    assert done.returncode == 0, done.stderr
    document = tomllib.loads((tmp_path / "press.toml").read_text(encoding="utf-8"))
    cabinet = document["cabinet"][0]
    assert (cabinet["height"], cabinet["width"], document["stock"]["ply"]) == ("6'", "40 1/2", "45/64")
    assert cabinet["openings"][0]["graduated"] == 7


def test_nothing_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "press.toml").write_text("mine", encoding="utf-8")
    done = run(["new", "press"], tmp_path)
    assert done.returncode == 1
    assert "nothing is written over" in done.stderr
    assert (tmp_path / "press.toml").read_text(encoding="utf-8") == "mine"


def test_a_link_to_nowhere_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "press.toml").symlink_to(tmp_path / "elsewhere.toml")
    assert run(["new", "press"], tmp_path).returncode == 1
    assert not (tmp_path / "elsewhere.toml").exists()


def test_faults_are_told_at_once_and_nothing_is_written(tmp_path: Path) -> None:
    done = run(["new", "press", "--height", "tall", "--width", "wide"], tmp_path)
    assert done.returncode == 1
    assert "2 faults to mend" in done.stderr
    assert not list(tmp_path.iterdir())


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    done = run(["new", "elsewhere/press"], tmp_path)
    assert done.returncode == 1
    assert "cannot be written" in done.stderr


def test_what_does_not_go_with_the_rest_is_a_wrong_command_line(tmp_path: Path) -> None:
    other_kind = run(["new", "side", "--kind", "stick", "--height", "36"], tmp_path)
    assert (other_kind.returncode, "does not go with --kind stick" in other_kind.stderr) == (2, True)
    not_asked = run(["new", "press", "--frame", "no", "--stile", "2"], tmp_path)
    assert (not_asked.returncode, "--stile goes only with --frame yes" in not_asked.stderr) == (2, True)
    assert not list(tmp_path.iterdir())


def test_at_a_terminal_what_is_left_out_is_asked_for(tmp_path: Path) -> None:
    with Terminal(["new", "side", "--kind", "stick", "--datum", "top"], tmp_path) as terminal:
        terminal.until(lambda shown: "Units (inch, mm) [inch]:" in shown)
        terminal.type("mm\n")
        terminal.until(lambda shown: "What the stick is called [Side]:" in shown)
        terminal.type("\n")
        terminal.until(lambda shown: "as measured [18.3]:" in shown)
        terminal.type("18,4\n")
        terminal.until(lambda shown: "decimal comma" in shown and shown.count("as measured [18.3]:") == 2)
        terminal.type("18.4\n")
        terminal.until(lambda shown: "from the end that zero is on [330, 305, 290, 255]:" in shown)
        terminal.type("300, 200\n")
        terminal.until(lambda shown: "A left and a right strip (yes, no) [yes]:" in shown)
        terminal.type("no\n")
        status, shown = terminal.ended()
    assert status == 0
    assert "The end that zero is on (" not in shown  # which an option said
    document = tomllib.loads((tmp_path / "side.toml").read_text(encoding="utf-8"))
    assert document["stock"]["ply"] == 18.4
    assert document["stick"] == [{"name": "Side", "datum": "top", "part": "ply", "openings": [300, 200]}]


def test_whoever_gives_up_at_the_questions_leaves_nothing(tmp_path: Path) -> None:
    with Terminal(["new", "side", "--kind", "stick"], tmp_path) as terminal:
        terminal.until(lambda shown: "Units" in shown)
        terminal.type("\x04")  # Ctrl-D
        status, shown = terminal.ended()
    assert status == 1
    assert "Traceback" not in shown
    assert not list(tmp_path.iterdir())


def test_an_empty_option_is_told(tmp_path: Path) -> None:
    done = run(["new", "chest", "--height", ""], tmp_path)
    assert (done.returncode, list(tmp_path.iterdir())) == (2, [])
    assert "--height is empty" in done.stderr
