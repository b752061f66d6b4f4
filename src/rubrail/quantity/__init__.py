"""Values with a basis and a tolerance; parsing and printing of lengths, weights, money."""
