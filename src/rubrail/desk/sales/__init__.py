"""Quotes to buyers and orders to makers."""
