"""From the text of a scenario file to checked tables and to the scenario."""
