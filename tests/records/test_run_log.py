"""Logs as people write them: read right, or refused with the line and what would be right."""

from __future__ import annotations

import numpy as np
import pytest

from screening.errors import LogError
from screening.records.run_log import read_rows

CELSIUS = [20.0, 40.0, 55.0, 65.0]


@pytest.mark.parametrize(
    "text",
    [
        "time_s,temperature_C\n0,20\n60,40\n120,55\n180,65\n",
        "Time [min];temp (C)\n0;20,0\n1;40,0\n2;55,0\n3;65,0\n",
        "time min\ttemp F\n0\t68\n1\t104\n2\t131\n3\t149\n",
        "# note\ntime,temp_C\n00:00,20\n01:00,40\n02:00,55\n03:00,65\n",
        "0 20\n60 40\n120 55\n180 65\n",
        "t_s temperature_K\n0 293.15\n60 313.15\n120 328.15\n180 338.15\n",
    ],
)
def test_usual_forms_say_the_same(text: str) -> None:
    rows = read_rows(text)
    np.testing.assert_allclose(rows.time, [0, 60, 120, 180])
    np.testing.assert_allclose(rows.reading - 273.15, CELSIUS, atol=1e-6)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("\n\n", "empty"),
        ("time_s,temp_C\n0,20\n60,hot\n120,55\n180,60\n", "line 3"),
        ("time_s,temp_C\n0,20\n60,40\n60,55\n180,60\n", "time does not rise"),
        ("0,68\n60,104\n120,131\n180,149\n", "Celsius or Fahrenheit"),
        ("0,20\n1,40\n2,55\n3,60\n", "minutes or seconds"),
        ("time_s,temp_C\n0,20\n", "at least 4"),
    ],
)
def test_what_cannot_be_told_is_refused(text: str, said: str) -> None:
    with pytest.raises(LogError, match=said):
        read_rows(text)
