"""A drive entered at the bay: typed lines, gaps from a tape or places from a photo, and a layout comes of them."""
