// Runs every test of this folder. `steepbook_unit -tc='zone*'` runs those whose name begins so.
#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>
