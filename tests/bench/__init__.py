"""Measurements of speed, each as a ratio to a floor in the same run."""
