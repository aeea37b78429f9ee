"""Hardware catalogues: what a firm installs, in a file it writes itself."""
