// What is drawn: contrast of the tokens, motion by time, bed strips, sizes and breaks of texts.
#include <doctest/doctest.h>

#include <array>

#include "look/bed_strip.h"
#include "look/draw.h"
#include "look/frame.h"
#include "look/motion.h"
#include "look/tokens.h"
#include "screens/harness.h"

using namespace steep;
using namespace steep::test;

namespace {

Color pixel(const Picture& picture, float x, float y) { return picture.at(static_cast<int>(x), static_cast<int>(y)); }

}  // namespace

TEST_CASE("look tokens: each text pair has a contrast of 7 or more, as the design prints it") {
  // Formula: WCAG 2.2, 'contrast ratio'. Black on white is 21 by definition.
  CHECK(contrast(rgb(0x000000), rgb(0xFFFFFF)) == doctest::Approx(21));
  CHECK(contrast(rgb(0x777777), rgb(0xFFFFFF)) ==
        doctest::Approx(4.48).epsilon(0.002));  // The widely published example.
  for (const Theme theme : {Theme::Day, Theme::Dusk, Theme::Paper}) {
    const Tokens& t = tokens(theme);
    for (const Color ground : {t.ground, t.surface, t.well}) {
      for (const Color text : {t.ink, t.ink2, t.duetext, t.beet}) CHECK(contrast(text, ground) >= 7);
      for (const Color shape : {t.line, t.leaf, t.beet, t.water, t.tea}) CHECK(contrast(shape, ground) >= 7);
    }
    CHECK(contrast(t.rule, t.ground) >= 3);
    CHECK(contrast(t.stake, t.onstake) >= 7);
    CHECK(contrast(t.pri, t.onpri) >= 7);
    CHECK(contrast(t.leaf, t.onleaf) >= 7);
    CHECK(contrast(t.due, t.ondue) >= 7);
    CHECK(contrast(t.beet, t.onbeet) >= 7);
    CHECK(contrast(t.tank_top, t.ontank) >= 7);
    CHECK(contrast(t.tank_foot, t.ontank) >= 7);
    CHECK(contrast(t.night, t.onnight) >= 7);
    CHECK(contrast(t.sky, t.ink) >= 7);
  }
  // Two printed figures: day ink on ground, dusk primary.
  CHECK(contrast(tokens(Theme::Day).ground, tokens(Theme::Day).ink) == doctest::Approx(15.5).epsilon(0.005));
  CHECK(contrast(tokens(Theme::Dusk).pri, tokens(Theme::Dusk).onpri) == doctest::Approx(9.2).epsilon(0.01));
}

TEST_CASE("look motion: by time, ends, and is instant when it may not move") {
  Harness harness;
  float target = 0, shown = -1;
  harness.draw = [&] { shown = moving(item_id("fill"), target); };
  harness.settle();
  CHECK(shown == 0);
  target = 1;
  harness.frame();
  harness.frame();
  CHECK(shown > 0);
  CHECK(shown < 1);
  CHECK(harness.settle() < 20);
  CHECK(shown == 1);
  CHECK(next_frame_in() > 1);
  harness.look.reduce_motion = true;
  target = 0;
  harness.frame();
  CHECK(shown == 0);
}

TEST_CASE("look strip: fill, flag, tape and cut line lie where the numbers say") {
  const std::array<StripStretch, 2> half = {{{0, 0.5f, 1}, {0.5f, 1, 0}}};
  Look look;
  look.width = 420;
  look.height = 420;
  Harness harness(look);
  BedStrip strip{.number = "N5", .first = "", .second = ""};
  harness.draw = [&] { draw_bed_strip(Box{10, 10, 410, 66}, strip, colors().ground); };
  const Tokens& t = tokens(Theme::Day);
  const float stake = 70 + 3, end = 410, y = 20;  // The stake is 60 wide, then 3 of surface.

  strip.fill = 0.5f;
  harness.frame();
  Picture picture = harness.picture();
  CHECK(pixel(picture, 20, y) == t.stake);
  CHECK(pixel(picture, stake + (end - stake) * 0.5f - 3, y) == t.leaf);
  CHECK(pixel(picture, stake + (end - stake) * 0.5f + 3, y) == t.surface);

  strip.fill = -1;  // No interval: no fill, no notches.
  strip.interval_days = 0;
  harness.frame();
  picture = harness.picture();
  for (float x = stake + 12; x < end - 4; x += 3) CHECK(pixel(picture, x, y) == t.surface);

  strip.fill = 0;  // Due: no fill, the end cell filled.
  strip.end = StripEnd::Due;
  harness.frame();
  picture = harness.picture();
  CHECK(pixel(picture, 400, 55) == t.due);
  CHECK(pixel(picture, stake + 30, y) == t.surface);

  strip = {.number = "N5", .fill = 1, .hold = StripHold::NoHarvest};  // Tape along the lower edge only.
  harness.frame();
  picture = harness.picture();
  int beet_above = 0, beet_below = 0;
  for (float x = 30; x < 400; x += 1) {
    beet_above += pixel(picture, x, 14) == t.beet;
    beet_below += pixel(picture, x, 60) == t.beet;
  }
  CHECK(beet_above == 0);
  CHECK(beet_below > 80);

  strip.hold = StripHold::NoEntry;  // Along both.
  harness.frame();
  picture = harness.picture();
  beet_above = 0;
  for (float x = 30; x < 400; x += 1) beet_above += pixel(picture, x, 14) == t.beet;
  CHECK(beet_above > 80);

  strip = {.number = "N5", .stretches = half};  // Left half treated, right half due.
  harness.frame();
  picture = harness.picture();
  const float middle = (stake + end) / 2;
  CHECK(pixel(picture, middle - 6, y) == t.leaf);
  CHECK(pixel(picture, middle + 6, y) == t.surface);

  strip = {.number = "N5", .fill = 1};  // Rounded: the very corner is the page behind.
  harness.frame();
  CHECK(pixel(harness.picture(), 10, 10) == t.ground);
}

TEST_CASE("look strip: 14 notches for 14 days, weeks from 22 days on") {
  Look look;
  look.width = 420;
  look.height = 100;
  Harness harness(look);
  BedStrip strip{.number = "N5", .fill = 0, .interval_days = 14};
  harness.draw = [&] { draw_bed_strip(Box{10, 10, 410, 66}, strip, colors().ground); };
  const auto notches = [&] {
    harness.frame();
    const Picture picture = harness.picture();
    int count = 0;
    bool inside = false;
    for (float x = 76; x < 406; x += 1) {
      const bool is = pixel(picture, x, 61) == tokens(Theme::Day).rule;
      count += is && !inside;
      inside = is;
    }
    return count;
  };
  CHECK(notches() == 13);  // The last day's mark is the strip's end itself.
  strip.interval_days = 28;
  CHECK(notches() == 3);
}

TEST_CASE("look text: from 100 to 160 % body grows fully, numbers half, ticks stop at 115 %") {
  Look look;
  Harness harness(look);
  std::array<float, 4> small{}, large{};
  std::array<float, 4>* into = &small;
  harness.draw = [&] {
    *into = {text_size(TextStyle::Body), text_size(TextStyle::L), text_size(TextStyle::Tick),
             text_size(TextStyle::Button)};
  };
  harness.frame();
  into = &large;
  harness.look.text_percent = 160;
  harness.frame();
  CHECK(small == std::array<float, 4>{16, 40, 13, 20});
  CHECK(large == std::array<float, 4>{26, 52, 15, 32});
}

TEST_CASE("look text: wraps at spaces, never between a number and its unit; nothing is lost") {
  Harness harness;
  harness.draw = [&] {
    const float line = line_height(TextStyle::Label);
    const std::string text = "until 8:52 pm today, sulfur, 24 h";
    const float all = text_width(TextStyle::Label, text);
    CHECK(wrapped_height(all, TextStyle::Label, text) == line);
    // Too narrow for the last letter only: the number goes along with its unit to the second line.
    const float narrow = all - 4;
    CHECK(wrapped_height(narrow, TextStyle::Label, text) == 2 * line);
    const float first_line = text_width(TextStyle::Label, "until 8:52 pm today, sulfur,");
    CHECK(wrapped_height(first_line + 1, TextStyle::Label, text) == 2 * line);
    CHECK(rich_height(all, TextStyle::Label, "**until** 8:52 pm today, sulfur, 24 h") == line);
    CHECK(wrapped_height(60, TextStyle::Label, "Alderreachquincehollow") > line);
    CHECK(wrapped_height(400, TextStyle::Label, "one\ntwo") == 2 * line);
  };
  harness.frame();
}
