"""Tests of the room `acts`."""
