"""Scale tickets at the desk: entered, answered, taken over."""
