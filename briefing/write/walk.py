"""The Markdown writer under the name by which the index of a folder still asks for it."""

from briefing.write.markdown import as_html

__all__ = ["as_html"]
