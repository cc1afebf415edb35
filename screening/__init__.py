"""Polymer piston screening."""
