"""What goes out when and for how many: the calendar, needs by release, kits, versions."""
