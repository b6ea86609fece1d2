// Runs every test of this folder. `steepbook_screens -tc='today*'` runs those whose name begins so.
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include "tests/screens/app_run.h"

int main(int argc, char** argv) {
  doctest::Context context(argc, argv);
  const int failed = context.run();
  return steep::test::names_not_in_words > 0 || steep::test::never_at_rest > 0 ? 1 : failed;
}
