/// The desktop program: a window, or with a verb the command line.

#include <unistd.h>
#include <iostream>
#include <optional>

#include "native/cli.h"
#include "native/plain_out.h"

int main(int argc, char** argv) {
  std::optional<steep::PlainOut> out, errors;
  if (isatty(STDOUT_FILENO)) out.emplace(std::cout);
  if (isatty(STDERR_FILENO)) errors.emplace(std::cerr);
  return steep::run_cli(argc, argv);
}
