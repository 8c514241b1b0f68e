"""Tests of the room `example`."""
