"""Where it is kept: engine, unit of work, triggers, files, search, proof and export."""
