/// The desktop program: a window, or with a verb the command line.

#include "native/cli.h"

int main(int argc, char** argv) { return steep::run_cli(argc, argv); }
