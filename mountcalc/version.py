"""The version, in a module of its own: results name it, and every module may."""

__version__ = "0.1.0"
