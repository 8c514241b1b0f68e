"""Tests of the room `queries`."""
