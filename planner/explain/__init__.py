"""Why an answer is what it is: price steps, comparisons, conflicts, and answers that last (E1 to E6).

Every answer here is a proven optimum, verified like any option; nothing is said that is not a
number first.
"""
