"""Values that know their units: money, rates, lengths, days, words and errors."""
