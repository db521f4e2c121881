"""Changed mounts, solved and judged again."""
