"""Ways to set the tension: aim, not below, never above."""
