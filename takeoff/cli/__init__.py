"""The command line: click commands of a few lines, the only room that prints."""
