"""Whether layouts will do: every requirement in closed form, many at once."""
