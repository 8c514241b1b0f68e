"""Tests of what papers state."""
