"""What counts of failures tell: lives, trends, rates and ages, each with its limits.

Pure arithmetic: no store, no clock, no words for the screen beside a reason why there is no number.
scipy and numpy are imported inside functions, as they take up to half a second.
"""
