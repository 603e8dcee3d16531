"""The quarter's plan as an integer linear program, and its solution by a solver."""
