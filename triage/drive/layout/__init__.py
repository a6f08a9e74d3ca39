"""A drive as a layout file describes it, read, checked and put together."""
