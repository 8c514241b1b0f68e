"""What the shop asks: frozen rows for tables, sheets, reports and papers."""
