//! The bench half of the command line.
