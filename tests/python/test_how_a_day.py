"""The example that DEVELOPERS.md follows by hand says what the library says."""

import datetime
import re
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
PAGE = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8").split("\n## How a day comes about\n")[1]
PAGE = PAGE.split("\n## ")[0]


def test_the_example_prints_what_stands_under_it():
    program, shown = re.search(
        r"^```python\n(.*?)^```\n```text\n(.*?)^```$", PAGE, re.M | re.S
    ).groups()
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=TOP, capture_output=True, text=True, check=True
    )
    assert done.stdout == shown


def test_its_days_are_those_reckoned_by_hand():
    # 480 degree-days at 8 and at 6 a day, and 28 days before them.
    wanted = datetime.date(2027, 6, 30)
    latest = [wanted - datetime.timedelta(days=480 // a_day + 28) for a_day in (8, 6)]
    assert latest == [datetime.date(2027, 4, 3), datetime.date(2027, 3, 14)]
    sown = latest[0]
    harvests = [sown + datetime.timedelta(days=28 + 480 // a_day) for a_day in (8, 6)]
    assert harvests == [wanted, datetime.date(2027, 7, 20)]
    for day in ["3 April", "14 March", "30 June", "20 July", "1 May", "11 April"]:
        assert day in PAGE


def test_every_file_that_it_names_is_there():
    named = set(re.findall(r"`(src/[\w/]+\.[ch]pp)`", PAGE))
    assert len(named) >= 8
    for name in named:
        assert (TOP / name).is_file(), name
