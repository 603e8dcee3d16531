"""Changes the rules, one place at a time, and counts how many changes the tests notice."""
