"""What stands against the use of a trim mask, for the registry of reasons of `tooling`: a file for each family."""
