"""Tests, in the same rooms as the program."""
