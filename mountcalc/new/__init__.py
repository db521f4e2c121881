"""A new mount: from what a person with a tape can tell to a scenario."""
