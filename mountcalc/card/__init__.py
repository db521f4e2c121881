"""The bench card: how the tension is weighed, heard and pressed."""
