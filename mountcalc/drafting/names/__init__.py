"""Names of parts beside a drawing, each where it covers little."""
