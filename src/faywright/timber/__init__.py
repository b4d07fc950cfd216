"""Timber: species with published properties, moisture, movement and strength."""
