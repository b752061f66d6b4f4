"""Forms: what people type, read and checked at the door."""
