#include "screens/settings_page.h"

#include <algorithm>

#include "base/licenses.h"
#include "base/text.h"
#include "book/places.h"
#include "book/things.h"
#include "look/button.h"
#include "look/card.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/rows.h"
#include "look/sheet.h"
#include "look/stepper.h"
#include "screens/parts.h"

namespace steep {
namespace {

using Line = SettingsView::Line;

void say_lines(SettingsView& view, const Surroundings& around) {
  const Words& words = around.words;
  const Settings& now = around.settings;
  const auto line = [&](std::string_view key, WordId word, Icon icon,
                        std::vector<std::pair<std::string, std::string>> choices, int chosen) {
    view.lines.push_back({std::string(key), words(word), std::move(choices), chosen, static_cast<int>(icon)});
  };
  line(setting::kLanguage, "settings.language"_w, Icon::Translate, {{"en", "English"}, {"es", "Español"}},
       now.language == Language::Spanish);
  line(setting::kUnits, "settings.units"_w, Icon::Scales,
       {{"us", words("settings.units_us"_w)}, {"metric", words("settings.units_metric"_w)}},
       around.units.system == System::Metric);
  line(setting::kMark, "settings.decimals"_w, Icon::Dialpad, {{".", "0.26"}, {",", "0,26"}},
       now.mark == DecimalMark::Comma);
  line(setting::kTheme, "settings.theme"_w, Icon::LightDark,
       {{"auto", words("settings.auto"_w)}, {"day", words("settings.day"_w)}, {"dusk", words("settings.dusk"_w)}},
       static_cast<int>(now.theme));
  line(setting::kHand, "settings.hand"_w, Icon::Hand,
       {{"right", words("settings.right"_w)}, {"left", words("settings.left"_w)}}, now.left_handed);
  line(setting::kMotion, "settings.motion"_w, Icon::Play,
       {{"full", words("settings.motion_on"_w)}, {"less", words("settings.motion_off"_w)}}, now.less_motion);
}

/// Who writes on this device, and for which farm.
Result<void> say_who(SettingsView& view, const Surroundings& around) {
  const Words& words = around.words;
  view.who_head = words("settings.who"_w);
  view.who = words("settings.nobody"_w);
  TRY_ASSIGN(const std::vector<Person>& people_here, people(around.book));
  for (const Person& person : people_here) {
    if (person.id == around.person) {
      view.person = static_cast<int>(view.people.size());
      view.who = person.name;
    }
    view.people.emplace_back(person.id.text(), person.name);
  }
  view.who_change = words("settings.change_who"_w, {view.who});
  view.farm_head = words("settings.farm"_w);
  TRY_ASSIGN(const std::vector<Farm>& farms_here, farms(around.book));
  for (const Farm& farm : farms_here) {
    if (farm.id == around.farm) view.farm = static_cast<int>(view.farms.size());
    view.farms.emplace_back(farm.id.text(), farm.name);
  }
  if (around.farm.is_nil()) return {};
  const std::string farm = view.farm < 0 ? std::string() : view.farms[static_cast<std::size_t>(view.farm)].second;
  view.rules_head = words("settings.farm_says"_w, {farm});
  view.tea_rule = words("rule.title"_w);
  view.tea_rule_why = words("settings.tea_rule_why"_w);
  view.limits = words("limits.title"_w);
  view.limits_why = words("limits.why"_w);
  return {};
}

/// The copy's name and, where there can be one, the folder that is watched.
void say_copy(SettingsView& view, const Surroundings& around) {
  const Words& words = around.words;
  view.copy_label = words("settings.copy"_w);
  view.copy_hint = words("settings.copy_hint"_w);
  view.copy_now = around.book.copy_label();
  view.copy_save = words("settings.copy_save"_w);
  if (!around.platform.can(Verb::WatchFolder)) return;
  view.watch_head = words("settings.watch"_w);
  view.watch_why = words("settings.watch_why"_w);
  view.watch_label = words("settings.watch_label"_w);
  view.watch_now = around.settings.watch_folder;
  view.watch_save = words("settings.watch_save"_w);
  view.watch_stop = words("settings.watch_stop"_w);
}

}  // namespace

Result<SettingsView> settings_view(const Surroundings& around, const SettingsInput& input) {
  const Words& words = around.words;
  SettingsView view;
  view.title = words("app.tab_settings"_w);
  view.second = words("settings.of_this_device"_w);
  say_lines(view, around);
  view.text_percent = around.settings.text_percent;
  view.text_label = words("settings.text_size"_w);
  view.text_value = std::to_string(view.text_percent);
  view.text_spoken = words("settings.say_text_size"_w, {view.text_value});
  TRY(say_who(view, around));
  say_copy(view, around);
  if (around.platform.program().newer_waits) {
    view.newer = words("settings.newer"_w);
    view.use_newer = words("settings.use_newer"_w);
  }
  view.licenses = words("settings.licenses"_w);
  view.licenses_why = words("settings.licenses_why"_w);
  if (input.problem) view.problem = around.sentence(*input.problem);
  return view;
}

namespace {

std::optional<Ask> draw_line(Pen& pen, const Line& line, bool line_above) {
  std::vector<Choice> choices;
  for (const auto& [value, word] : line.choices) choices.push_back({.text = word});
  const float width = std::min(pen.width(), scaled(line.choices.size() > 2 ? 230 : 190));
  const Box box = setting_line(pen, static_cast<Icon>(line.icon), line.word, width, line_above);
  const int i = segmented(box, line.key, line.word, choices, line.chosen);
  if (i < 0) return std::nullopt;
  return Set{{{line.key, line.choices[static_cast<std::size_t>(i)].first}}};
}

std::optional<Ask> draw_text_size(Pen& pen, const SettingsView& view) {
  const Box box = setting_line(pen, Icon::TextSize, view.text_label, std::min(pen.width(), scaled(190)), true);
  const Stepped by = stepper(box, {.id = "text-size",
                                   .value = view.text_value,
                                   .unit = "%",
                                   .spoken = view.text_spoken,
                                   .can_less = view.text_percent > 100,
                                   .can_more = view.text_percent < 160,
                                   .can_type = false});
  if (!by) return std::nullopt;
  const int percent = std::clamp(view.text_percent + (by.steps > 0 ? 10 : -10), 100, 160);
  return Set{{{setting::kTextSize, std::to_string(percent)}}};
}

std::optional<Ask> list_sheet(const std::string& title, std::string_view key,
                              const std::vector<std::pair<std::string, std::string>>& list, int chosen,
                              std::string& open) {
  std::optional<Ask> ask;
  Sheet sheet({.id = "list", .title = title});
  std::vector<Choice> choices;
  for (const auto& [id, name] : list) choices.push_back({.text = name});
  if (const int i = choice_list(sheet.pen(), "names", title, choices, chosen); i >= 0) {
    ask = Set{{{key, list[static_cast<std::size_t>(i)].first}}};
    open.clear();
  }
  if (sheet.closed()) open.clear();
  return ask;
}

std::optional<Ask> draw_device(Pen& pen, const SettingsView& view, SettingsInput& input) {
  std::optional<Ask> ask;
  Card card(pen, {.id = "device"});
  if (list_row(
          card.pen,
          {.id = "who", .icon = Icon::Person, .first = view.who, .second = view.who_head, .spoken = view.who_change}))
    input.sheet = "who";
  if (view.farms.size() > 1 && view.farm >= 0 &&
      list_row(card.pen, {.id = "farm",
                          .icon = Icon::MapMarker,
                          .first = view.farms[static_cast<std::size_t>(view.farm)].second,
                          .second = view.farm_head,
                          .line_above = true})) {
    input.sheet = "farm";
  }
  card.pen.space(size::kGrid);
  if (!input.copy_touched) input.copy = view.copy_now;
  if (text_field(
          card.pen,
          {.id = "copy", .label = view.copy_label, .hint = view.copy_hint, .icon = Icon::Phone, .max_length = 60},
          input.copy)
          .changed) {
    input.copy_touched = true;
  }
  if (input.copy_touched && input.copy != view.copy_now) {
    card.pen.space(size::kGrid);
    if (button(card.pen, {.id = "copy-save", .text = view.copy_save})) {
      ask = write_plainly([label = input.copy](Book& book, const Id&) { return book.set_copy_label(label); });
      input.copy_touched = false;
    }
  }
  return ask;
}

/// What the farm decided, for all who work on it.
std::optional<Ask> draw_farm(Pen& pen, const SettingsView& view) {
  std::optional<Ask> ask;
  Card card(pen, {.id = "farm", .head = view.rules_head});
  if (list_row(card.pen, {.id = "limits", .icon = Icon::Scales, .first = view.limits, .second = view.limits_why}))
    ask = Go{{"limits", {}}};
  if (list_row(card.pen, {.id = "tea-rule",
                          .icon = Icon::OnLeaf,
                          .first = view.tea_rule,
                          .second = view.tea_rule_why,
                          .line_above = true}))
    ask = Go{{"farm-rule", {}}};
  return ask;
}

std::optional<Ask> draw_watch(Pen& pen, const SettingsView& view, SettingsInput& input) {
  std::optional<Ask> ask;
  Card card(pen, {.id = "watch", .head = view.watch_head});
  paragraph(card.pen, view.watch_why, TextStyle::Label);
  card.pen.space(size::kGrid);
  if (!input.folder_touched) input.folder = view.watch_now;
  if (text_field(card.pen, {.id = "folder", .label = view.watch_label, .icon = Icon::FileIn, .max_length = 1000},
                 input.folder)
          .changed)
    input.folder_touched = true;
  const auto set = [&](std::string folder) {
    input.folder_touched = false;
    ask = Set{{{setting::kWatchFolder, std::move(folder)}}};
  };
  const std::string typed(trim(input.folder));
  card.pen.space(size::kGrid);
  if (typed != view.watch_now && !typed.empty()) {
    if (button(card.pen, {.id = "watch-save", .text = view.watch_save})) set(typed);
  } else if (!view.watch_now.empty()) {
    if (button(card.pen, {.id = "watch-stop", .text = view.watch_stop})) set({});
  }
  return ask;
}

}  // namespace

std::optional<Ask> draw_settings_page(const SettingsView& view, SettingsInput& input, const Furniture& furniture) {
  ScreenSpec spec = furniture.inner("settings", view.title, view.second);
  spec.back = furniture.tabs.current >= 0 &&
              furniture.tab_places[static_cast<std::size_t>(furniture.tabs.current)].page != "settings";
  Screen screen(spec);
  std::optional<Ask> ask;
  {
    ScreenPart main = screen.main();
    Pen pen = reading_column(main.pen());
    problem_line(pen, view.problem);
    if (!view.newer.empty()) {
      Card card(pen, {.id = "newer", .head = view.newer, .edge = CardEdge::Ink});
      if (button(card.pen, {.id = "use-newer", .text = view.use_newer})) ask = UseNewer{};
    }
    {
      Card card(pen, {.id = "looks"});
      for (std::size_t i = 0; i < view.lines.size(); ++i) {
        if (auto set = draw_line(card.pen, view.lines[i], i > 0)) ask = set;
      }
      if (auto set = draw_text_size(card.pen, view)) ask = set;
    }
    if (auto set = draw_device(pen, view, input)) ask = set;
    if (!view.rules_head.empty())
      if (auto set = draw_farm(pen, view)) ask = set;
    if (!view.watch_head.empty())
      if (auto set = draw_watch(pen, view, input)) ask = set;
    Card card(pen, {.id = "about"});
    if (list_row(card.pen,
                 {.id = "licenses", .icon = Icon::Certificate, .first = view.licenses, .second = view.licenses_why}))
      ask = Go{{"licenses"}};
    main.pen().below(pen);
  }
  if (!furniture.covered) {
    std::optional<Ask> chosen;
    if (input.sheet == "who")
      chosen = list_sheet(view.who_head, setting::kPerson, view.people, view.person, input.sheet);
    if (input.sheet == "farm") chosen = list_sheet(view.farm_head, setting::kFarm, view.farms, view.farm, input.sheet);
    if (chosen) ask = chosen;
  }
  return ask ? ask : furniture.asked(screen);
}

Result<LicensesView> licenses_view(const Surroundings& around, const LicensesInput&) {
  LicensesView view;
  view.title = around.words("settings.licenses"_w);
  view.second = around.words("settings.licenses_why"_w);
  // Paragraphs: lines up to an empty one belong together.
  std::string paragraph;
  for (const std::string_view line : split(third_party_licenses(), '\n')) {
    if (trim(line).empty()) {
      if (!paragraph.empty()) view.lines.push_back(std::move(paragraph));
      paragraph.clear();
      continue;
    }
    if (!paragraph.empty()) paragraph += "\n";
    paragraph += trim(line);
  }
  if (!paragraph.empty()) view.lines.push_back(std::move(paragraph));
  for (const std::string& text : view.lines) {
    std::vector<std::string> words;
    for (const std::string_view line : split(text, '\n'))
      for (const std::string_view word : split(line, ' '))
        if (!word.empty()) words.emplace_back(word);
    view.spoken.push_back(join(words, " "));
  }
  return view;
}

std::optional<Ask> draw_licenses(const LicensesView& view, LicensesInput&, const Furniture& furniture) {
  Screen screen(furniture.inner("licenses", view.title, view.second));
  ScreenPart main = screen.main();
  Pen pen = reading_column(main.pen());
  for (std::size_t i = 0; i < view.lines.size(); ++i) {
    const std::string& text = view.lines[i];
    const float height = wrapped_height(pen.width(), TextStyle::Label, text);
    const Box box = pen.take(height);
    pen.space(size::kGrid);
    if (is_visible(box)) draw_wrapped(box, TextStyle::Label, colors().ink, text);
    add_text_item(Role::Text, view.spoken[i], box);
  }
  main.pen().below(pen);
  return furniture.asked(screen);
}

}  // namespace steep
