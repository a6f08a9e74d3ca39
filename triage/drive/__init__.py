"""What an accessory drive does: geometry, speeds, grip, tension, rotation, and the bay's arithmetic."""
