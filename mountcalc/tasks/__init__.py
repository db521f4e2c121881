"""What users ask for; each task takes a scenario and returns frozen results."""
