"""Run logs in the forms people write them, and what is refused."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest

from screening.errors import LogError
from screening.records.run_log.readings import LogRows, read_rows

SECONDS = [0.0, 30.0, 60.0, 90.0]
CELSIUS = [19.5, 23.4, 31.4, 33.1]
PLAIN = "time_s,temperature_C\n0,19.5\n30,23.4\n60,31.4\n90,33.1\n"


def _is_the_plain_log(rows: LogRows) -> None:
    assert rows.time == pytest.approx(SECONDS, abs=1e-4)
    assert rows.reading - 273.15 == pytest.approx(CELSIUS, abs=1e-6)


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", "\t"),
        PLAIN.replace(",", "  "),
        PLAIN.replace(",", ", "),
        PLAIN.replace(",", ";").replace(".", ","),
        PLAIN.replace(",", "\t").replace(".", ","),
        PLAIN.replace(",", " ").replace(".", ","),
        PLAIN.replace("\n", "\r\n"),
        PLAIN.replace("\n", "\r"),
        "\ufeff" + PLAIN,
        "# a comment, with, commas\n\n" + PLAIN.replace("60,", "\n# another\n  60,"),
        '"time_s","temperature_C"\n"0","19,5"\n"30","23,4"\n"60","31,4"\n"90","33,1"\n',
        "Time (s)  Temp (°C)\n0 19.5\n30 23.4\n60 31.4\n90 33.1\n",
        "head C;time s\n19,5;0\n23,4;30\n31,4;60\n33,1;90\n",
        "time_s,speed_rpm,ambient_C,head_C\n0,3000,20,19.5\n30,3000,20,23.4\n60,2990,20,31.4\n90,3010,20,33.1\n",
        "time_s,temperature_C,\n0,19.5,\n30,23.4,\n60,31.4,\n90,33.1,\n",
    ],
)
def test_forms_of_one_log(text: str) -> None:
    _is_the_plain_log(read_rows(text))


@pytest.mark.parametrize(
    ("header", "times", "temperatures"),
    [
        ("time_min;T_C", ["0", "0.5", "1", "1.5"], CELSIUS),
        ("elapsed [minutes];reading in Celsius", ["10", "10.5", "11", "11.5"], CELSIUS),
        ("time_h;degC", ["0", "0.00833333", "0.01666667", "0.025"], CELSIUS),
        ("time;temp °C", ["0:00", "0:30", "1:00", "1:30"], CELSIUS),
        ("time mm:ss;temp C", ["14:05", "14:35", "15:05", "15:35"], CELSIUS),
        ("clock;temp C", ["14:05:10", "14:05:40", "14:06:10", "14:06:40"], CELSIUS),
        ("time_s;temp_F", SECONDS, [67.1, 74.12, 88.52, 91.58]),
        ("time_s;Fahrenheit", SECONDS, [67.1, 74.12, 88.52, 91.58]),
        ("time_s;head temp (°F)", SECONDS, [67.1, 74.12, 88.52, 91.58]),
        ("time_s;temp K", SECONDS, [292.65, 296.55, 304.55, 306.25]),
    ],
)
def test_units(header: str, times: list[object], temperatures: list[float]) -> None:
    lines = [f"{time};{temperature}" for time, temperature in zip(times, temperatures, strict=True)]
    _is_the_plain_log(read_rows("\n".join([header, *lines])))


def test_hours_and_minutes_where_the_header_says_so() -> None:
    rows = read_rows("time hh:mm;C\n14:05;20\n14:06;21\n14:07;22\n14:09;23\n")
    assert rows.time.tolist() == [0, 60, 120, 240]


def test_a_log_without_header_says_what_was_assumed() -> None:
    rows = read_rows("0 19.5\n100 23.4\n200 31.4\n300 33.1")
    assert rows.time.tolist() == [0, 100, 200, 300]
    assert [note.split()[0] for note in rows.notes] == ["time", "temperature"]
    assert read_rows(PLAIN).notes == ()
    assert read_rows("\ufeff0 19.5\n100 23.4\n200 31.4\n300 33.1").time.size == 4  # the mark is no header


def test_fuel_column() -> None:
    rows = read_rows("time_s,temp_C,fuel_mL\n0,20,0\n1,21,\n2,22,5\n3,23\n")
    assert rows.fuel_used == pytest.approx([0, np.nan, 5e-6, np.nan], nan_ok=True)
    before = read_rows("time_s;fuel_cc;C\n0;0;20\n1;1;21\n2;2;22\n3;3;23")
    assert before.fuel_used == pytest.approx([0, 1e-6, 2e-6, 3e-6])
    assert before.reading[-1] == pytest.approx(296.15)
    litres = read_rows("time_s,temp_C,fuel used L\n0,20,0\n1,21,1\n2,22,2\n3,23,3\n")
    assert litres.fuel_used == pytest.approx([0, 1e-3, 2e-3, 3e-3])
    unnamed = read_rows("time_s,temp_C,fuel\n0,20,0\n1,21,1\n2,22,2\n3,23,3\n")
    assert "millilitres" in unnamed.notes[0]
    assert read_rows(PLAIN).fuel_used is None


def test_sources(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(b"\xef\xbb\xbf" + PLAIN.encode())
    for source in (path, str(path), io.StringIO(PLAIN), PLAIN):
        _is_the_plain_log(read_rows(source))
    assert read_rows(path).digest == read_rows(PLAIN).digest
    assert read_rows(PLAIN).digest != read_rows(PLAIN.replace("33.1", "33.2")).digest


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "the log is empty"),
        ("# only this\n\n", "the log is empty"),
        ("time_s,temperature_C\n0,20\n1,21\n2,22\n", "the log has 3 rows of numbers; at least 4 are needed"),
        ("a\n1\n2\n3\n4\n", "each row needs two values, time and temperature"),
        (PLAIN.replace("31.4", "warm"), "line 4: got 'warm'; must be a number"),
        (PLAIN.replace("31.4", ""), "line 4: got ''; must be a number"),
        (PLAIN.replace("31.4", "nan"), "line 4: got 'nan'; must be a number"),
        (PLAIN.replace("31.4", "1e999"), "line 4: got '1e999'; must be a finite number"),
        (PLAIN.replace("31.4", "3_1"), "line 4: got '3_1'; must be a number"),
        (PLAIN.replace("60,", "30,"), "line 4: time does not rise"),
        (
            PLAIN.replace("60,31.4", "60"),
            "line 4: got 1 value, '60'; must be 2 or more, time and temperature among them",
        ),
        (PLAIN.replace("31.4", "31,4"), "line 4: got 3 values; must be 2, like the others"),
        (PLAIN.replace(".", ","), "names fewer columns than the rows have"),
        ("0,19,5\n30,23,4\n60,31,4\n150,33,1\n", "has commas that may part values or mark decimals"),
        ("time;temp\ns;C\n0;20\n1;21\n2;22\n3;23\n", "line 2: got 's'; must be a number"),
        ("time,temp_C\n0,20\n1,21\n2,22\n3,23\n", "could be minutes or seconds"),
        ("time_s,temp\n0,68\n1,70\n2,72\n3,75\n", "starts at 68: Celsius or Fahrenheit"),
        ("time_s,temp_F\n0,-400\n1,-401\n2,-402\n3,-402\n", "read as degF, lie outside -43 to 627 °C"),
        ("time_s,temp_K\n0,20\n1,21\n2,22\n3,23\n", "read as K, lie outside"),
        ("time_s,temp_C\n0,20\n1,21\n2,22\n3,-300\n", "line 5: a temperature of -300 degC lies below absolute zero"),
        ("time_s,temp_C\n0,20\n1,1e9\n2,22\n3,23\n", "line 3: a temperature of 1e+09 degC is hotter than any"),
        ("time_s,fuel_mL\n0,0\n1,1\n2,2\n3,3\n", "has no column of temperature"),
        ("time_s,temp_C,fuel_g\n0,20,0\n1,21,1\n2,22,2\n3,23,3\n", "must be a volume: mL, cc, cm3 or L"),
        ("time,C\n14:05,20\n14:06,21\n14:07,22\n14:08,23\n", "may be hours and minutes or minutes and seconds"),
        ("time,C\n0:00,20\n0:75,21\n2:00,22\n3:00,23\n", "line 3: got time '0:75'"),
        ("time,C\n0:00,20\n60,21\n2:00,22\n3:00,23\n", "line 3: got time '60'; must be mm:ss"),
        ("time,C\n0:00:00,20\n0:-1:00,21\n0:02:00,22\n0:03:00,23\n", "line 3: got time '0:-1:00'"),
        ("{\n" * 6, "each row needs two values"),
    ],
)
def test_refusals(text: str, message: str) -> None:
    with pytest.raises(LogError) as caught:
        read_rows(io.StringIO(text))
    assert message in str(caught.value)
    assert "\n" not in str(caught.value)


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(LogError, match=r"none\.csv: no such file"):
        read_rows(tmp_path / "none.csv")
    (tmp_path / "sheet.xls").write_bytes(bytes(range(128, 256)))
    for source in (tmp_path, tmp_path / "sheet.xls", "a\0b", "x" * 10_000):
        with pytest.raises(LogError, match=r"(not UTF-8 text|is a folder|cannot be read)") as caught:
            read_rows(source)
        assert len(str(caught.value)) < 400


def test_a_long_log_is_read_whole() -> None:
    text = "time_s;temp_C\n" + "\n".join(f"{i};{20 + i / 5000:.3f}" for i in range(100_000))
    rows = read_rows(text)
    assert rows.time.size == 100_000


@pytest.mark.parametrize(
    ("header", "guessed"),
    [("rpm,bar", ["rpm", "bar"]), ("time_s,bar", ["bar"]), ("time_s,temp C", []), ("s,C", []), ("t,T", [])],
)
def test_columns_taken_without_a_name_are_told(header: str, guessed: list[str]) -> None:
    rows = read_rows(f"{header}\n0,20\n100,24\n200,27\n300,28")
    told = [note for note in rows.notes if "its name does not say" in note]
    assert len(told) == len(guessed)
    assert all(f"headed {name!r}" in note for name, note in zip(guessed, told, strict=True))
