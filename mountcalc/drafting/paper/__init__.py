"""Drawings on paper: templates over sheets, views on a page, pages of text."""
