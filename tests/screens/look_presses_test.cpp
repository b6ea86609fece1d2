// What widgets must keep: presses, guards, repeats, scrolling, the item tree, fields, sheets, keys.
#include <doctest/doctest.h>

#include <cmath>

#include "imgui.h"
#include "look/button.h"
#include "look/field.h"
#include "look/number_pad.h"
#include "look/scroll.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/harness.h"

using namespace steep;
using namespace steep::test;

namespace {

/// A 390 × 844 page with one button in the middle; counts its presses.
struct OneButton {
  Harness harness;
  int presses = 0;
  OneButton() {
    harness.draw = [this] { presses += button(Box{100, 400, 290, 464}, {.id = "done", .text = "N11 done"}); };
    harness.settle();
  }
};

}  // namespace

TEST_CASE("look press: acts on release inside, once") {
  OneButton page;
  page.harness.touch_down(200, 430);
  CHECK(page.presses == 0);
  page.harness.touch_up();
  CHECK(page.presses == 1);
}

TEST_CASE("look press: a finger that moved more than 12 dp presses nothing, one that rolled does") {
  OneButton page;
  page.harness.touch_down(200, 430);
  page.harness.touch_move(200, 444);
  page.harness.touch_up();
  CHECK(page.presses == 0);
  page.harness.now += 1;
  page.harness.touch_down(200, 430);
  page.harness.touch_move(208, 437);  // 10.6 dp: still a tap.
  page.harness.touch_up();
  CHECK(page.presses == 1);
}

TEST_CASE("look press: two presses within 350 ms count once, after that twice") {
  OneButton page;
  const auto tap = [&] {
    page.harness.touch_down(200, 430);
    page.harness.touch_up();
  };
  tap();
  tap();
  CHECK(page.presses == 1);
  page.harness.now += 0.36;
  tap();
  CHECK(page.presses == 2);
}

TEST_CASE("look press: two files that come at once are two presses, two presses by name one") {
  Harness harness;
  int presses = 0;
  bool picks = false;
  SUBCASE("a button") {}
  SUBCASE("for files") { picks = true; }
  harness.draw = [&] {
    presses += button(Box{100, 400, 290, 464}, {.id = "file", .text = "Choose a file", .file_pick = picks});
  };
  harness.settle();
  const Item* item = harness.find("Choose a file");
  REQUIRE(item);
  const std::uint32_t id = item->id;
  for (int i = 0; i < 2; ++i) {
    harness.tree.press(id);
    harness.frame();
  }
  CHECK(presses == (picks ? 2 : 1));
}

TEST_CASE("look press: a finger taken away by the system presses nothing") {
  OneButton page;
  page.harness.touch_down(200, 430);
  cancel_pointer();
  page.harness.touch_up();
  CHECK(page.presses == 0);
}

TEST_CASE("look press: a mouse may wander inside its target, and leaves without pressing") {
  OneButton page;
  page.harness.mouse_click(120, 430);
  CHECK(page.presses == 1);
  page.harness.now += 1;
  page.harness.mouse_move(120, 430);
  ImGui::GetIO().AddMouseButtonEvent(0, true);
  page.harness.frame();
  page.harness.mouse_move(280, 440);
  ImGui::GetIO().AddMouseButtonEvent(0, false);
  page.harness.frame();
  CHECK(page.presses == 2);
  page.harness.now += 1;
  ImGui::GetIO().AddMouseButtonEvent(0, true);
  page.harness.frame();
  page.harness.mouse_move(20, 20);
  ImGui::GetIO().AddMouseButtonEvent(0, false);
  page.harness.frame();
  CHECK(page.presses == 2);
}

TEST_CASE("look item tree: a press by name is a tap; a disabled one is refused and says why") {
  int presses = 0;
  Harness harness;
  harness.draw = [&] {
    Pen pen(16, 374, 100);
    presses += button(pen, {.id = "go", .text = "Start", .enabled = presses == 0, .why_not = "load a tank first"});
  };
  harness.settle();
  REQUIRE(harness.find("Start"));
  CHECK(harness.press("Start"));
  CHECK(presses == 1);
  CHECK_FALSE(harness.press("Start…"));
  REQUIRE(harness.find("Start, not possible now: load a tank first"));
  CHECK_FALSE(harness.find("Start, not possible now: load a tank first")->enabled);
}

TEST_CASE("look item tree: a text of several lines has a name of one") {
  Harness harness;
  harness.draw = [] { add_text_item(Role::Text, "oxygen 6\ntemperature 64", {0, 0, 100, 60}); };
  harness.settle();
  CHECK(harness.find("oxygen 6, temperature 64"));
}

TEST_CASE("look item tree: the version moves only when something on screen changed") {
  OneButton page;
  const auto version = page.harness.tree.version();
  page.harness.frame();
  page.harness.frame();
  CHECK(page.harness.tree.version() == version);
}

TEST_CASE("look item tree: a long list names all 400 rows and opens one that was clipped") {
  Harness harness;
  int opened = -1;
  harness.draw = [&] {
    Scroll scroll("list", Box{0, 64, 390, 772}, 16, 8, 8);
    long_list(
        scroll.pen,
        {.count = 400,
         .row_height = 56,
         .id = [](std::size_t i) { return item_id("row" + std::to_string(i)); },
         .name = [](std::size_t i) { return "Bed " + std::to_string(i + 1); },
         .draw =
             [&](std::size_t i, const Box& box) {
               const std::string name = "Bed " + std::to_string(i + 1);
               if (press({.id = item_id("row" + std::to_string(i)), .role = Role::Row, .name = name}, box).pressed)
                 opened = static_cast<int>(i);
             }});
  };
  harness.settle();
  CHECK(harness.tree.items().size() == 400);
  const Item* far = harness.find("Bed 390");
  REQUIRE(far);
  CHECK_FALSE(far->drawn);
  CHECK(harness.press("Bed 390"));
  CHECK(opened == 389);
  CHECK(harness.find("Bed 390")->drawn);
  CHECK_FALSE(harness.find("Bed 1")->drawn);
  harness.tree.reveal(harness.find("Bed 1")->id);
  harness.settle();
  CHECK(harness.find("Bed 1")->drawn);
  CHECK(harness.last_frame_ms() < 50);
}

TEST_CASE("look scroll: a finger drags, a throw glides by exp(-4t) and stops; a touch stops it and is no tap") {
  Harness harness;
  float offset = 0;
  int presses = 0;
  harness.draw = [&] {
    Scroll scroll("page", Box{0, 0, 390, 844});
    for (int i = 0; i < 100; ++i) {
      const IdScope scope("row", i);
      presses += button(scroll.pen.take(60), {.id = "b", .text = "Row"});
    }
    offset = scroll.offset();
  };
  harness.settle();
  harness.touch_down(200, 600);
  for (int i = 1; i <= 10; ++i) harness.touch_move(200, 600 - 20 * static_cast<float>(i));
  // Past the slop the page follows the finger: 200 dp less the move in which it passed.
  CHECK(offset > 170);
  CHECK(offset <= 200);
  const float at_release = offset;
  harness.touch_up();
  CHECK(presses == 0);
  for (int i = 0; i < 30; ++i) harness.frame();
  const float gliding = offset;
  CHECK(gliding > at_release + 50);
  // The way of a throw is velocity / 4: 20 dp a frame are 1,200 dp/s, so 300 dp in all.
  for (int i = 0; i < 200; ++i) harness.frame();
  CHECK(offset - at_release == doctest::Approx(300).epsilon(0.12));
  CHECK(next_frame_in() > 1);
  // A touch while it glides stops it and presses nothing.
  harness.touch_down(200, 600);
  for (int i = 1; i <= 10; ++i) harness.touch_move(200, 600 - 20 * static_cast<float>(i));
  harness.touch_up();
  harness.frame();
  harness.touch_down(200, 300);
  const float stopped = offset;
  harness.touch_up();
  for (int i = 0; i < 30; ++i) harness.frame();
  CHECK(offset == doctest::Approx(stopped));
  CHECK(presses == 0);
  // A rested finger throws nothing.
  harness.touch_down(200, 600);
  for (int i = 1; i <= 5; ++i) harness.touch_move(200, 600 - 20 * static_cast<float>(i));
  for (int i = 0; i < 6; ++i) harness.frame();
  const float rested = offset;
  harness.touch_up();
  for (int i = 0; i < 30; ++i) harness.frame();
  CHECK(offset == doctest::Approx(rested));
}

TEST_CASE("look stepper: one on a press; held, 6 a second after 400 ms, ten times as far after 2 s") {
  Harness harness;
  int steps = 0, fast = 0;
  double value = 1.78;
  bool opened = false;
  harness.draw = [&] {
    const Stepped by =
        stepper(Box{50, 100, 340, 148}, {.id = "tea", .value = "1.78", .unit = "gal", .spoken = "Tea 1.78 gallons"});
    steps += by.steps;
    if (by.round) ++fast;
    opened = opened || by.open;
    value = step_value(value, 0.01, by, 0, 10);
  };
  harness.settle();
  CHECK(harness.press("Tea 1.78 gallons, more"));
  CHECK(steps == 1);
  CHECK(harness.press("Tea 1.78 gallons, less"));
  CHECK(steps == 0);
  CHECK(value == doctest::Approx(1.78));
  CHECK(harness.press("Tea 1.78 gallons, type another value"));
  CHECK(opened);
  harness.now += 1;
  harness.touch_down(320, 124);
  for (int i = 0; i < 22; ++i) harness.frame();  // 383 ms: not yet.
  CHECK(steps == 0);
  for (int i = 0; i < 62; ++i) harness.frame();  // 1.4 s: 6 a second since 0.4 s.
  CHECK(steps >= 6);
  CHECK(steps <= 8);
  CHECK(fast == 0);
  for (int i = 0; i < 60; ++i) harness.frame();  // 2.4 s.
  CHECK(fast >= 2);
  // After coarse steps the value stands on a round one.
  CHECK(std::abs(value * 10 - std::round(value * 10)) < 1e-9);
  const int before = steps;
  harness.touch_up();
  CHECK(steps == before);  // The release of a held stepper is no further step.
}

TEST_CASE("look stepper: ends of the range, own grid of steps") {
  CHECK(step_value(0.005, 0.01, {.steps = -1}, 0, 10) == doctest::Approx(0));
  CHECK(step_value(1.784, 0.01, {.steps = 1}, 0, 10) == doctest::Approx(1.79));
  CHECK(step_value(1.78, 0.01, {.steps = 10, .round = true}, 0, 10) == doctest::Approx(1.9));
  CHECK(step_value(9.99, 0.01, {.steps = 10, .round = true}, 0, 10) == doctest::Approx(10));
}

TEST_CASE("look field: typed through the tree, natively by keys; length counts code points") {
  std::string text;
  bool done = false;
  Harness harness;
  harness.draw = [&] {
    Pen pen(16, 374, 100);
    const FieldEvent event = text_field(
        pen, {.id = "reason", .label = "Reason", .error = text == "x" ? "Say a little more." : "", .max_length = 8},
        text);
    done = done || event.done;
  };
  harness.settle();
  REQUIRE(harness.find(Role::Field, "Reason"));
  CHECK(harness.type("Reason", "ñandú años", true));
  CHECK(text == "ñandú añ");
  CHECK(done);
  CHECK(harness.tree.find(Role::Field, "Reason")->value == "ñandú añ");
  CHECK(harness.type("Reason", "x", false));
  CHECK(harness.tree.find(Role::Field, "Reason")->error == "Say a little more.");
  REQUIRE(harness.tree.find(Role::Alert, "Say a little more."));
  // Native: a tap gives it the caret, letters arrive, Enter ends it.
  text.clear();
  harness.settle();
  CHECK(harness.tap("Reason"));
  harness.frame();
  ImGui::GetIO().AddInputCharactersUTF8("wet");
  harness.settle();
  CHECK(text == "wet");
  done = false;
  harness.key(ImGuiKey_Enter);
  CHECK(done);
  CHECK(text == "wet");
}

TEST_CASE("look number pad: digits, one mark, no bounce, both of a double digit") {
  std::string typed;
  NumberPadEvent last;
  Harness harness;
  harness.draw = [&] {
    Pen pen(16, 374, 100);
    const NumberPadEvent event =
        number_pad(pen, {.id = "pad", .spoken = "Oxygen", .unit = "mg/L", .mark = ',', .save = "Save"}, typed);
    if (event.changed || event.saved || event.not_taken) last = event;
  };
  harness.settle();
  CHECK(harness.press("Digit 6"));
  CHECK(harness.press("Decimal mark"));
  CHECK(harness.press("Decimal mark"));
  CHECK(harness.press("Digit 5"));
  CHECK(typed == "6,5");
  // A quick second 5 is meant; a bounce within 70 ms is not.
  const Item* five = harness.find("Digit 5");
  REQUIRE(five);
  const float x = (five->rect.left + five->rect.right) / 2, y = (five->rect.top + five->rect.bottom) / 2;
  harness.now += 1;
  harness.touch_down(x, y);
  harness.touch_up();
  harness.touch_down(x, y);  // 33 ms later
  harness.touch_up();
  CHECK(typed == "6,55");
  for (int i = 0; i < 8; ++i) harness.frame();
  harness.touch_down(x, y);
  harness.touch_up();
  CHECK(typed == "6,555");
  CHECK(harness.press("Delete the last digit"));
  CHECK(typed == "6,55");
  CHECK(harness.press("Not taken"));
  CHECK(last.not_taken);
  CHECK(harness.press("Save"));
  CHECK(last.saved);
}

TEST_CASE("look sheet: takes the presses, the page behind keeps still; outside and Escape close it") {
  int behind = 0, inside = 0, closed = 0;
  bool open = true;
  Harness harness;
  harness.draw = [&] {
    behind += button(Box{100, 100, 290, 164}, {.id = "behind", .text = "Behind"});
    behind += button(Box{100, 700, 290, 764}, {.id = "covered", .text = "Covered"});
    if (!open) return;
    Sheet sheet({.id = "sheet", .title = "Why skip?"});
    for (int i = 0; i < 4; ++i) {
      const IdScope scope("in", i);
      inside += button(sheet.pen(), {.id = "inside", .text = "Inside " + std::string(1, static_cast<char>('A' + i))});
      sheet.pen().space(8);
    }
    closed += sheet.closed();
  };
  harness.settle();
  REQUIRE(harness.tree.find(Role::Dialog, "Why skip?"));
  CHECK_FALSE(harness.press("Behind"));
  CHECK_FALSE(harness.find("Behind")->enabled);
  CHECK(harness.find("Covered")->rect == ItemRect{});
  CHECK(harness.tap("Inside B"));
  CHECK(inside == 1);
  CHECK(behind == 0);
  harness.tap(200, 130);
  CHECK(behind == 0);
  CHECK(closed == 1);
  harness.key(ImGuiKey_Escape);
  CHECK(closed == 2);
  open = false;
  harness.settle();
  CHECK(harness.press("Behind"));
  CHECK(behind == 1);
}

TEST_CASE("look keyboard: Tab walks all that can be pressed, Enter presses, shift turns") {
  int which = 0;
  Harness harness;
  harness.draw = [&] {
    Pen pen(16, 374, 100);
    if (button(pen, {.id = "a", .text = "A"})) which = 1;
    if (button(pen, {.id = "b", .text = "B"})) which = 2;
  };
  harness.settle();
  harness.key(ImGuiKey_Tab);
  harness.key(ImGuiKey_Tab);
  harness.now += 1;
  harness.key(ImGuiKey_Enter);
  CHECK(which == 2);
  harness.key(ImGuiKey_Tab, true);
  harness.now += 1;
  harness.key(ImGuiKey_Enter);
  CHECK(which == 1);
}
