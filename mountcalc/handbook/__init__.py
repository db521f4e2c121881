"""What handbooks say: rows of the data files with their sources, looked up."""
