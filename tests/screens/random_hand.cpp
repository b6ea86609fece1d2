#include "tests/screens/random_hand.h"

#include <map>

namespace steep::test {
namespace {

/// Some of them fit somewhere, the others nowhere.
constexpr std::array kTexts = {"",
                               " ",
                               "0",
                               "1",
                               "24",
                               "-3",
                               "1.5",
                               "1,5",
                               "1,500",
                               "1.234,5",
                               "1/2",
                               "2 1/2",
                               "1/0",
                               "½",
                               ".",
                               ",",
                               "1e9",
                               "1e400",
                               "999999999999999999999999",
                               "0.000000000001",
                               "4 gal",
                               "20 L",
                               "68",
                               "20 °C",
                               "45 gal/acre",
                               "3 acres",
                               "6.8 mg/L",
                               "1:4",
                               "1 in 4",
                               "2026-05-14",
                               "2026-05-14 14:00",
                               "2026-02-30",
                               "2026-11-01 01:30",
                               "1999-12-31",
                               "14:00",
                               "25:61",
                               "2 pm",
                               "Ana Leland",
                               "Alder Reach",
                               "Well water",
                               "North, 3 beds, 100 ft × 30 in",
                               "Creek, 2 beds, 20 m x 75 cm",
                               "America/Los_Angeles",
                               "Mars/Olympus",
                               "wet after rain",
                               "ñandú y años",
                               "日本語",
                               "🌱🌱🌱",
                               "\xE2\x80\xAE gnorw",
                               "a\tb\nc",
                               "'; drop table change; --",
                               "<b>bold</b> & \"quoted\"",
                               "\xC3\x28 not UTF-8"};

struct Size {
  float width, height;
};
constexpr std::array kSizes = {Size{360, 640}, Size{390, 844}, Size{844, 390}, Size{768, 1024}, Size{1440, 900}};

bool can_be_pressed(const Item& item) {
  if (!item.enabled) return false;
  switch (item.role) {
    case Role::Button:
    case Role::Tab:
    case Role::Choice:
    case Role::Check:
    case Role::Row:
    case Role::FilePick: return true;
    default: return false;
  }
}

/// How likely one is pressed beside the others: a long list of rows must not hide the few buttons.
int weight(const Item& item) {
  switch (item.role) {
    case Role::Button: return 12;
    case Role::Choice: return 8;
    case Role::Check: return 5;
    case Role::FilePick: return 3;
    case Role::Row: return 3;
    default: return 1;
  }
}

std::string long_text() {
  std::string text;
  for (int i = 0; i < 400; ++i) text += "a very long reason ";
  return text;
}

}  // namespace

const Item* Hand::any_item() {
  int all = 0;
  for (const Item& item : run.app().items().items()) all += can_be_pressed(item) ? weight(item) : 0;
  if (all == 0) return nullptr;
  int at = static_cast<int>(below(static_cast<std::uint64_t>(all)));
  for (const Item& item : run.app().items().items()) {
    if (!can_be_pressed(item)) continue;
    at -= weight(item);
    if (at < 0) return &item;
  }
  return nullptr;
}

void Hand::press_any() {
  const Item* item = any_item();
  if (!item) return;
  told.push_back("press '" + item->name + "'");
  if (item->role == Role::FilePick && !files.empty()) platform.files_to_pick = {one_of(files)};
  const bool drawn = item->drawn;
  const std::uint32_t id = item->id;
  platform.wait(500);
  if (!run.app().items().press(id)) press_lost_ = true;
  run.frame();
  // Unless it was gone by then: 'try again' of what has been saved meanwhile.
  for (const Item& still : run.app().items().items())
    if (still.id == id && can_be_pressed(still) && drawn && run.app().items().has_requests()) press_lost_ = true;
  run.settle();
}

void Hand::tap_any(int times) {
  const Item* item = any_item();
  if (!item || item->rect == ItemRect{}) return;
  told.push_back((times > 1 ? "tap twice '" : "tap '") + item->name + "'");
  if (item->role == Role::FilePick && !files.empty()) platform.files_to_pick = {one_of(files)};
  platform.wait(500);
  run.tap((item->rect.left + item->rect.right) / 2, (item->rect.top + item->rect.bottom) / 2, times);
}

void Hand::type_any() {
  std::vector<const Item*> fields;
  for (const Item& item : run.app().items().items())
    if (item.role == Role::Field && item.enabled) fields.push_back(&item);
  if (fields.empty()) return press_any();
  const Item* field = one_of(fields);
  std::string text = chance(3) ? long_text() : one_of(kTexts);
  told.push_back("type '" + text.substr(0, 60) + "' into '" + field->name + "'");
  run.app().items().type(field->id, std::move(text), chance(70));
  run.settle();
}

void Hand::turn() {
  const Size& size = one_of(kSizes);
  told.push_back("screen of " + std::to_string(static_cast<int>(size.width)) + " × " +
                 std::to_string(static_cast<int>(size.height)));
  run.harness.look.width = size.width;
  run.harness.look.height = size.height;
  run.settle();
}

void Hand::pass_time() {
  constexpr std::array kSpans = {20 * kSecond, kMinute, 5 * kMinute, 47 * kMinute, 3 * kHour, kDay, 9 * kDay};
  std::int64_t span = one_of(kSpans);
  if (may_turn_clock_back && chance(8)) span = -2 * kDay;
  told.push_back(std::to_string(span / kSecond) + " s pass");
  platform.wait(span);
  run.app().came_visible();
  run.settle();
}

void Hand::other_settings() {
  auto& settings = platform.settings;
  settings["language"] = chance(50) ? "es" : "en";
  settings["theme"] = chance(50) ? "dusk" : "day";
  settings["text-size"] = std::to_string(100 + 10 * below(7));
  settings["decimal-mark"] = chance(50) ? "," : ".";
  settings["units"] = chance(50) ? "metric" : "us";
  settings["hand"] = chance(50) ? "left" : "right";
  told.push_back("killed; opened with " + settings["language"] + " " + settings["text-size"] + " " + settings["units"] +
                 " '" + settings["decimal-mark"] + "'");
  run.kill_and_open();
  counter_ = run.book().counter();
}

void Hand::trouble_or_not() {
  if (platform.fail_keep_after == 0) {
    platform.fail_keep_after = -1;
    told.push_back("storage works again");
    run.app().storage_changed();
  } else if (may_lose_storage) {
    platform.fail_keep_after = 0;
    told.push_back("storage fails");
  }
  run.settle();
}

void Hand::act() {
  const int what = static_cast<int>(below(1000));
  if (what < 560) {
    press_any();
  } else if (what < 680) {
    tap_any(1);
  } else if (what < 730) {
    tap_any(2);
  } else if (what < 880) {
    type_any();
  } else if (what < 925) {
    told.push_back("back");
    run.app().back();
    run.settle();
  } else if (what < 945) {
    turn();
  } else if (what < 975) {
    pass_time();
  } else if (what < 985) {
    other_settings();
  } else if (what < 992) {
    told.push_back("hidden");
    run.app().went_hidden();
    run.settle();
  } else {
    trouble_or_not();
  }
}

std::string Hand::fault() {
  if (names_not_in_words > 0) return "a text never became words";
  if (never_at_rest > 0) return "the program never came to rest";
  if (std::exchange(press_lost_, false)) return "a press was not taken by what it was meant for";
  int can = 0;
  std::set<std::pair<Role, std::string>> names;
  std::map<std::uint32_t, std::string> ids;
  for (const Item& item : run.app().items().items()) {
    if (item.name.empty()) return "an item without a name";
    if (item.role == Role::Heading && item.name == word("app.cannot_show"_w)) return "a page that cannot be shown";
    if (!can_be_pressed(item) && !(item.role == Role::Field && item.enabled)) continue;
    ++can;
    // Two things may be alike in all that is shown, as two plans for one hour; two deeds may not.
    if (item.role != Role::Row && !names.insert({item.role, item.name}).second)
      return "two are called '" + item.name + "'";
    const auto [other, is_new] = ids.insert({item.id, item.name});
    if (!is_new) return "one id of '" + item.name + "' and '" + other->second + "'";
  }
  if (can == 0) return "nothing can be pressed";
  if (run.book().counter() != counter_ && platform.keeps == keeps_) return "written, and storage was not asked";
  counter_ = run.book().counter();
  keeps_ = platform.keeps;
  return {};
}

bool Hand::press_named(Role role, const std::string& name) {
  const Item* item = nullptr;  // Beneath a sheet another of that name may stand.
  for (const Item& one : run.app().items().items())
    if (one.role == role && one.name == name && one.enabled) item = &one;
  if (!item) return false;
  told.push_back("home by '" + name + "'");
  platform.wait(500);
  run.app().items().press(item->id);
  run.settle();
  return true;
}

bool Hand::go_home() {
  for (int step = 0; step < 20; ++step) {
    if (press_named(Role::Button, word("look.close"_w))) continue;
    if (press_named(Role::Tab, word("app.tab_today"_w)))
      return run.app().items().find(Role::Heading, word("app.tab_today"_w)) != nullptr;
    if (press_named(Role::Button, word("look.back"_w))) continue;
    return !run.book().is_started() && run.shows(word("first_run.no_book"_w));
  }
  return false;
}

std::string Hand::story(std::size_t last) const {
  std::string all;
  for (std::size_t i = told.size() > last ? told.size() - last : 0; i < told.size(); ++i) all += told[i] + "\n";
  return all + "on\n" + run.screen();
}

}  // namespace steep::test
