"""Work on a file from anywhere is done apart: its limits, its faults, and that nothing but plain findings come back."""

from __future__ import annotations

import os
import pickle
import sys
import threading
import time
from io import BytesIO
from pathlib import Path

import pytest

from storystick import apart as guarded
from storystick.apart import apart
from storystick.errors import Fault, Faults
from storystick.prints import load_print

FILE = Path("folder") / "file.pdf"

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="these tests count on a process that is a copy")


def process_number(_file: Path) -> int:
    return os.getpid()


def goes_on_counting(_file: Path) -> int:
    return sum(1 for _ in iter(int, 1))


def sleeps(_file: Path) -> None:
    time.sleep(60)


def wants_a_gigabyte(_file: Path) -> int:
    return len(bytearray(2**30))


def is_ended(_file: Path) -> None:
    os._exit(3)


def faults(file: Path) -> None:
    raise Faults([Fault("it is torn", "mend it", file.name), Fault("it is wet")])


def breaks(_file: Path) -> None:
    raise ZeroDivisionError("no share of nothing")


def gives_more_than_findings(_file: Path) -> object:
    return os.system


def test_work_is_done_in_another_process() -> None:
    assert apart(process_number, FILE) != os.getpid()


@pytest.mark.parametrize("work", [wants_a_gigabyte, is_ended])
def test_what_takes_too_much_is_a_fault_that_names_the_file(work: object) -> None:
    with pytest.raises(Fault, match=r"^file.pdf: the file takes more than 10 s or 500 MB"):
        apart(work, FILE)  # type: ignore[arg-type]


def test_what_takes_too_long_is_ended_by_the_time_of_the_processor(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guarded, "CPU_SECONDS", 1)
    with pytest.raises(Fault, match="takes more than 10 s"):
        apart(goes_on_counting, FILE)


def test_what_only_waits_is_ended_by_the_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guarded, "_CLOCK_SECONDS", 0.3)
    with pytest.raises(Fault, match="takes more than 10 s"):
        apart(sleeps, FILE)


def test_faults_come_back_as_they_are() -> None:
    with pytest.raises(Faults) as caught:
        apart(faults, FILE)
    assert [(fault.where, fault.what, fault.cure) for fault in caught.value.faults] == [
        ("file.pdf", "it is torn", "mend it"),
        ("", "it is wet", ""),
    ]


def test_error_of_ours_comes_back_with_its_traceback() -> None:
    with pytest.raises(RuntimeError, match=r"in breaks(?s:.*)no share of nothing"):
        apart(breaks, FILE)


def test_nothing_is_taken_back_that_could_do_anything() -> None:
    """A function is named in the answer, as of a process that was taken over."""
    with pytest.raises(pickle.UnpicklingError, match="system is not expected"):
        apart(gives_more_than_findings, FILE)
    ours = pickle.dumps(apart)
    with pytest.raises(pickle.UnpicklingError, match="apart is not expected"):
        guarded._Unpickler(BytesIO(ours)).load()


def test_beside_other_threads_it_is_a_new_process(tmp_path: Path) -> None:
    """A copy of one with several threads could wait for ever."""
    ends = threading.Event()
    other = threading.Thread(target=ends.wait)
    other.start()
    try:
        with pytest.raises(Faults, match="there is no such file"):
            load_print(tmp_path / "none.pdf")
    finally:
        ends.set()
        other.join()
