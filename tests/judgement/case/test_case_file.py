"""Case files on disk: what is no case file, and that nothing is left half-written."""

from __future__ import annotations

import json
import os
import stat
from pathlib import Path

import pytest

from screening.errors import CaseError
from screening.judgement.case.case_file import (
    LARGEST_FILE,
    demo_cases,
    load_case,
    parse_document,
    save_case,
    write_whole,
)


def refusal(path: object) -> str:
    with pytest.raises(CaseError) as caught:
        load_case(path)  # type: ignore[arg-type]
    assert len(caught.value.faults) == 1
    assert len(str(caught.value)) < 500
    return str(caught.value)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "is empty; a case file is one JSON object"),
        (b"title: my case", "not JSON"),
        (b"{", "not JSON: Expecting property name"),
        (b"[1]", "got a list; a case file is one JSON object"),
        (b'"x"', "got a text; a case file is one JSON object"),
        (b"\x00", "not JSON"),
        (b'{"title": "\xe9"}', "not UTF-8 text: byte 0xe9 at 11"),
        (b'{"format": NaN}', "NaN is not a number a case can hold"),
        (b'{"format": -Infinity}', "-Infinity is not a number"),
        (b'{"format": 1e999}', "format: got inf; must be a finite number"),
        (b'{"format": "a", "format": "b"}', "the key 'format' stands twice"),
        (b'{"title": "\\ud800"}', "title: holds half a character"),
        (b'{"fuel": ' + b"[" * 100_000, "too deep"),
        (b'{"fuel": ' + b"[" * 100_000 + b"]" * 100_000 + b"}", "too deep"),
        (b'{"fuel": ' + b"[" * 500 + b"]" * 500 + b"}", "more than 12 deep"),
        (b'{"fuel": ' + b'{"a":' * 500 + b"1" + b"}" * 501, "more than 12 deep"),
        (b" " * (LARGEST_FILE + 1), "is longer than 5 million letters: it is no case file"),
    ],
    ids=lambda value: "" if isinstance(value, bytes) else value,
)
def test_what_is_no_case_file(content: bytes, message: str, tmp_path: Path) -> None:
    path = tmp_path / "case.json"
    path.write_bytes(content)
    assert message in refusal(path)


def test_paths_that_hold_no_file(tmp_path: Path) -> None:
    known = refusal(tmp_path / "none.json")
    assert "no such file; give a case file or a demo case" in known
    assert all(name in known for name in demo_cases())
    assert "is a folder; give a case file" in refusal(tmp_path)
    assert "no file has such a name" in refusal("a\0b")
    assert "cannot be read: File name too long" in refusal("x" * 10_000)


def test_documents_of_other_kinds() -> None:
    assert "keys must be text" in refusal({1: "x"})
    assert "got a set; must be text, a number" in refusal({"fuel": {"ethanol"}})
    assert "got a tuple; must be" in refusal({"fuel": ("ethanol",)})


def test_byte_order_mark_and_crlf(tmp_path: Path) -> None:
    text = demo_cases()["petrol_baseline"].read_text("utf-8")
    (tmp_path / "case.json").write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert load_case(tmp_path / "case.json") == load_case("petrol_baseline")


def test_a_file_named_like_a_demo_case_comes_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    document = json.loads(demo_cases()["petrol_baseline"].read_text("utf-8")) | {"title": "mine"}
    (tmp_path / "petrol_baseline").write_text(json.dumps(document))
    monkeypatch.chdir(tmp_path)
    assert load_case("petrol_baseline").title == "mine"


def test_written_whole(tmp_path: Path) -> None:
    path = tmp_path / "out.json"
    save_case(load_case("petrol_baseline"), path)
    assert parse_document(path.read_text("utf-8"), "out")["version"] == 1
    umask = os.umask(0)
    os.umask(umask)
    assert stat.S_IMODE(path.stat().st_mode) == 0o666 & ~umask  # others may read what one shares
    assert [p.name for p in tmp_path.iterdir()] == ["out.json"]


def test_a_failure_leaves_the_old_file_and_no_scraps(tmp_path: Path) -> None:
    path = tmp_path / "out.txt"
    write_whole(path, "old")
    with pytest.raises(UnicodeEncodeError):
        write_whole(path, "half a character: \ud800")
    assert path.read_text("utf-8") == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["out.txt"]
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "none" / "out.txt", "new")
    assert not (tmp_path / "none").exists()


@pytest.mark.skipif(not Path("/dev/null").exists(), reason="no device files here")
def test_a_device_stays_a_device() -> None:
    write_whole("/dev/null", "gone")
    assert not Path("/dev/null").is_file()
