"""Whether layouts clear what they must clear."""
