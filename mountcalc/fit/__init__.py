"""From readings at the machine to this belt and this build, and how sure."""
