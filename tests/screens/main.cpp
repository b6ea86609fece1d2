// Runs every test of this folder. `steepbook_screens -tc='today*'` runs those whose name begins so.
#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>
