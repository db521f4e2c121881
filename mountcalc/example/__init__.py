"""The scenarios that ship: what each teaches, and a copy to change."""
