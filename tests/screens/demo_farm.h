#pragma once
/// The demo farm on a device of its own, made on the device's clock and in its zone.

#include <doctest/doctest.h>

#include <string>

#include "demo/demo.h"
#include "tests/screens/farm_run.h"

namespace steep::test {

struct DemoFarm {
  TempBook file;
  FakePlatform platform{file.path};

  /// `name`: of the file, one for each test.
  explicit DemoFarm(const std::string& name) : file(name) {
    DemoWish wish;
    wish.now = platform.clock;
    wish.zone_name = platform.zone;
    REQUIRE(make_demo(platform.book_place(), wish));
    platform.saved();
  }
};

}  // namespace steep::test
