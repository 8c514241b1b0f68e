"""Tests of the room `quantities`."""
