"""What handbooks say of belts and of the pulleys they run on: rows of data files, looked up."""
