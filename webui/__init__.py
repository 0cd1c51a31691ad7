"""The desk: everything the technician sees, the same on the phone and on the server. No clock, no network, no disk."""
