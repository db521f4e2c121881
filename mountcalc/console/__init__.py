"""Kit for commands: the application, arguments, choices, progress, what is said and where."""
