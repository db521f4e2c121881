"""Drawings as PDF, DXF, SVG and PNG."""
