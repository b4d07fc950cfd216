"""Pages of timber: what a species, the air and the seasons do."""
