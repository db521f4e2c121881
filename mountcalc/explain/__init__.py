"""What the words mean: of the pages, of a scenario's keys, of checks and of JSON, with examples."""
