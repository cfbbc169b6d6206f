"""Plans and answers as text, for people and for other programs.

`expand` prints a plan file in its long form, every value with where it comes from. `to_json` writes
a calendar or a prospect whole, and `from_json` reads it and works it out again.
"""

from epicotyl._json import from_json, to_json
from epicotyl._plan import expand

__all__ = [
    "expand",
    "from_json",
    "to_json",
]
