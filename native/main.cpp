/// The desktop program: a window, or with a verb the command line.

#include "native/cli.h"
#include "native/window.h"

int main(int argc, char** argv) {
  if (argc > 1) return steep::run_cli(argc, argv);
  steep::PlatformDesktop platform;
  return steep::run_window(platform);
}
