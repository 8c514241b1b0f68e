"""The example shop: an invented harbour town, built through the acts."""
