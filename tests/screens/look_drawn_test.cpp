// What is drawn: contrast of the tokens, motion by time, bed strips, sizes and breaks of texts.
#include <doctest/doctest.h>

#include <array>

#include "look/bed_strip.h"
#include "look/button.h"
#include "look/draw.h"
#include "look/frame.h"
#include "look/motion.h"
#include "look/overlap.h"
#include "look/tank_gauge.h"
#include "look/tokens.h"
#include "screens/harness.h"

using namespace steep;
using namespace steep::test;

namespace {

Color pixel(const Picture& picture, float x, float y) { return picture.at(static_cast<int>(x), static_cast<int>(y)); }

/// Is anything but `ground` drawn in this box?
bool inked(const Picture& picture, const Box& box, Color ground) {
  for (float y = box.top; y < box.bottom; y += 1)
    for (float x = box.left; x < box.right; x += 1)
      if (pixel(picture, x, y) != ground) return true;
  return false;
}

}  // namespace

TEST_CASE("look tokens: each text pair has a contrast of 7 or more, as the design prints it") {
  // Formula: WCAG 2.2, 'contrast ratio'. Black on white is 21 by definition.
  CHECK(contrast(rgb(0x000000), rgb(0xFFFFFF)) == doctest::Approx(21));
  CHECK(contrast(rgb(0x777777), rgb(0xFFFFFF)) ==
        doctest::Approx(4.48).epsilon(0.002));  // The widely published example.
  for (const Theme theme : {Theme::Day, Theme::Dusk}) {
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

TEST_CASE("look text: the two words of a unit stay together, and no line ends with the dot between two facts") {
  Harness harness;
  const Color ground = tokens(Theme::Day).ground;
  float first = 0, line = 0;
  const auto drawn = [&](std::string_view text, std::string_view fits, std::string_view on_first_line) {
    harness.draw = [&] {
      line = line_height(TextStyle::Body);
      first = text_width(TextStyle::Body, on_first_line);
      draw_wrapped({10, 10, 11 + text_width(TextStyle::Body, fits), 200}, TextStyle::Body, colors().ink, text);
    };
    harness.frame();
    const Picture picture = harness.picture();
    CHECK(inked(picture, {10, 10, 10 + first, 10 + line}, ground));
    return inked(picture, {10 + first + 2, 10, 300, 10 + line}, ground);
  };
  CHECK_FALSE(drawn("recipe 2 fl oz left", "recipe 2 fl", "recipe"));
  CHECK_FALSE(drawn("Blue bucket · ready", "Blue bucket ·", "Blue bucket"));
  CHECK(drawn("Blue bucket · ready", "Blue bucket · ready", "Blue bucket"));
}

TEST_CASE("look strip: what does not fit is left out whole, and a long name takes no more than its part") {
  Look look;
  look.width = 420;
  look.height = 200;
  Harness harness(look);
  BedStrip strip{.number = "C1", .first = "Collard", .second = "hace 7 d · 100 pies", .end = StripEnd::Plain};
  strip.interval_days = 0;
  strip.end_first = "7 d";
  strip.end_second = "para la próxima";
  harness.draw = [&] { draw_bed_strip(Box{10, 10, 270, 66}, strip, colors().ground); };
  harness.frame();
  const Color surface = tokens(Theme::Day).surface;
  CHECK_FALSE(inked(harness.picture(), {142, 14, 146, 62}, surface));  // Before the end cell: no cut letter.
  strip = {.number = "Greenhouse two, the left bench by the door", .first = "Collard", .second = "7 d"};
  strip.interval_days = 0;
  harness.draw = [&] { draw_bed_strip(Box{10, 10, 410, 66}, strip, colors().ground); };
  harness.frame();
  const Picture picture = harness.picture();
  CHECK(pixel(picture, 13, 60) == tokens(Theme::Day).stake);
  CHECK(pixel(picture, 300, 38) == surface);
  CHECK(inked(picture, {165, 14, 250, 62}, surface));  // The crop stands beside it.
}

TEST_CASE("look pass: four words in one row also in Spanish at 130 % on a small phone") {
  Look look;
  look.width = 360;
  look.height = 740;
  look.text_percent = 130;
  Harness harness(look, Language::Spanish);
  const std::array<PassButton, 4> row = {{{.id = "half", .word = "Media", .second = "lado lane"},
                                          {.id = "skip", .word = "Saltar", .second = "con motivo"},
                                          {.id = "undo", .word = "Deshacer", .second = "N4"},
                                          {.id = "refill", .word = "Rellenar", .second = "carga 2"}}};
  harness.draw = [&] {
    Pen pen(12, 348, 20);
    pass_buttons(pen, row);
  };
  harness.settle();
  const Item *half = harness.find("Media…"), *refill = harness.find("Rellenar…");
  REQUIRE(half);
  REQUIRE(refill);
  CHECK(half->rect.top == refill->rect.top);
  CHECK(refill->rect.right <= 348);
}

TEST_CASE("look tank: the amounts stand beside the number of beds, also beside a number of two digits") {
  Harness harness;
  float high = 0;
  harness.draw = [&] {
    Pen pen(16, 374, 20);
    tank_head(pen, {.number = "11½",
                    .words = "beds",
                    .words2 = "left in tank",
                    .amount = "~2.97",
                    .amount_unit = "gal spray in it",
                    .line2 = "2.82 gal can be sprayed",
                    .line3 = "load 1 of 2 · 4 of 24 done"});
    high = pen.y - 20;
  };
  harness.frame();
  CHECK(high < 80);
}

TEST_CASE("look overlap: times stand at the same distance, none runs into the next") {
  Harness harness;
  const std::array<Overlap::Bar, 2> bars = {{{"Ana", 2, 3}, {"Marek", 1, 4}}};
  std::array<Overlap::TickMark, 6> ticks = {
      {{0, "4:01 pm"}, {1, "4:02 pm"}, {2, "4:03 pm"}, {3, "4:04 pm"}, {4, "4:05 pm"}, {5, "4:06 pm"}}};
  Overlap shown{.from_h = 0, .to_h = 5, .bars = bars, .ticks = ticks};
  float foot = 0;
  harness.draw = [&] {
    Pen pen(16, 374, 20);
    overlap(pen, shown);
    foot = pen.y - 8;
  };
  harness.frame();
  const Picture picture = harness.picture();
  const Color ground = tokens(Theme::Day).ground;
  for (int i = 1; i < 5; ++i) {
    CAPTURE(i);
    const float x = 16 + 358 * static_cast<float>(i) / 5;
    CHECK(inked(picture, {x - 8, foot - 12, x + 8, foot - 4}, ground) == (i % 2 == 0));
  }
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
