"""The window: Qt widgets over acts and queries; no session and no record is ever held here."""
