"""Facts that are on record already: listed with their numbers, changed, and removed by themselves.

Every change is checked by the rules that hold when the fact is written down.
"""
