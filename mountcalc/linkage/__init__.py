"""The geometry of the mount: symbolic model and the numpy kernels generated from it."""
