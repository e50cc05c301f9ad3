"""leanladder: how far a rider may lean at each corner of each of the first laps.

__version__ is the program's; ENGINE is the numbers': it rises when the same question would get
another answer, and is written into every answer.
"""

__version__ = "0.1.0"
ENGINE = "2"
