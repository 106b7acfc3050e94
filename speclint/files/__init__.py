"""The only input and output besides the command line: reading and writing files, the project file, the cache."""
