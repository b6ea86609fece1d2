#include "screens/settle.h"

#include <algorithm>

#include "base/text.h"
#include "book/differing.h"
#include "book/enter.h"
#include "book/settle_commands.h"
#include "book/things.h"
#include "look/button.h"
#include "look/caution.h"
#include "look/choice.h"
#include "look/field.h"
#include "look/frame.h"
#include "look/rows.h"
#include "look/settle.h"
#include "screens/fact_text.h"

namespace steep {
namespace {

/// Kinds on which waits hang: until settled the most cautious reading counts.
constexpr std::string_view kWaitsHangOn[] = {"dose",    "load",       "load-line", "pass", "planting", "hold",
                                             "release", "label-line", "material",  "lot",  "farm"};

SettleView::Version version_shown(const DifferingGroup& group, const DifferingVersion& version,
                                  const Surroundings& around) {
  SettleView::Version shown;
  const std::string copy = copy_told(around.book, version.copy_id, version.copy, around.words);
  shown.copy = version.copy_id;
  shown.whose = copy + " · " + author_text(around, version.at, version.who, {});
  shown.value = fact_text(version.fields, around);
  std::vector<std::string> detail;
  if (!version.why.empty()) detail.push_back(reason_text(version.why, around.words));
  if (version.stand_in) detail.push_back(around.words("settle.stands_in"_w));
  if (version.clock_doubtful) detail.push_back(around.words("settle.clock_doubtful"_w));
  if (!version.not_seen.empty())
    detail.push_back(around.words("settle.had_not_seen"_w, {not_seen_told(around.book, group, version, around.words)}));
  shown.detail = join(detail, " · ");
  return shown;
}

std::vector<SettleView::Asked> asked_of(const DifferingGroup& group, std::string_view kind, const Words& words) {
  std::vector<SettleView::Asked> asked;
  for (const DifferingVersion& version : group.versions)
    for (const FieldValue& field : version.fields)
      if (std::none_of(asked.begin(), asked.end(), [&](const auto& one) { return one.key == field.key; }))
        asked.push_back({field.key, field_name(kind, field.key, words)});
  return asked;
}

/// What was chosen for a fact, in words; empty = nothing yet.
std::string shown_of(const SettleView::FactShown& fact, std::size_t i, const SettleInput& input) {
  const int chosen = i < input.chosen.size() ? input.chosen[i] : -1;
  if (chosen < 0) return {};
  if (chosen < static_cast<int>(fact.versions.size())) return fact.versions[static_cast<std::size_t>(chosen)].value;
  std::vector<std::string> typed;
  for (std::size_t f = 0; f < fact.asked.size(); ++f) {
    const bool given = i < input.typed.size() && f < input.typed[i].size() && !trim(input.typed[i][f]).empty();
    if (!given) return {};
    typed.push_back(std::string(trim(input.typed[i][f])));
  }
  return join(typed, ", ");
}

bool none_saw_another(const DifferingRecord& differs) {
  for (const DifferingGroup& group : differs.groups)
    for (const DifferingVersion& version : group.versions)
      if (version.not_seen.size() + 1 != group.versions.size()) return false;
  return true;
}

/// Copies that have exactly one version of every fact that differs, with their labels.
std::vector<std::pair<Id, std::string>> whole_sides(const DifferingRecord& differs) {
  std::vector<std::pair<Id, std::string>> sides;
  if (differs.groups.size() < 2) return sides;
  for (const DifferingVersion& first : differs.groups.front().versions) {
    const bool everywhere = std::all_of(differs.groups.begin(), differs.groups.end(), [&](const DifferingGroup& group) {
      return std::count_if(group.versions.begin(), group.versions.end(),
                           [&](const auto& v) { return v.copy_id == first.copy_id; }) == 1;
    });
    const std::pair side(first.copy_id, first.copy);
    if (everywhere && std::find(sides.begin(), sides.end(), side) == sides.end()) sides.push_back(side);
  }
  return sides;
}

Do settle_all(const SettleView& view, const SettleInput& input) {
  Do ask;
  ask.what = [view, input](Book& book, const Going& going) -> Result<Outcome> {
    std::vector<FactChoice> choices;
    for (std::size_t i = 0; i < view.facts.size(); ++i) {
      const SettleView::FactShown& fact = view.facts[i];
      const int chosen = i < input.chosen.size() ? input.chosen[i] : -1;
      if (chosen < 0) continue;
      FactChoice choice{fact.group, static_cast<std::size_t>(chosen), {}};
      if (choice.choice >= fact.versions.size()) {
        EnterFields fields;
        for (std::size_t f = 0; f < fact.asked.size(); ++f) fields.emplace_back(fact.asked[f].key, input.typed[i][f]);
        TRY_ASSIGN(const std::optional<Record>& old, book.record(view.record));
        TRY_ASSIGN(choice.typed,
                   read_fields(book, view.kind, fields, {Habits(view.units.mark, view.units.gallons), view.farm},
                               old ? &*old : nullptr));
      }
      choices.push_back(std::move(choice));
    }
    return settle_facts(book, view.record, choices, input.reason, going);
  };
  ask.then = [](const Outcome&) -> std::optional<Ask> { return Back{}; };
  return ask;
}

void make_room(SettleInput& input, const SettleView& view) {
  input.chosen.resize(view.facts.size(), -1);
  input.typed.resize(view.facts.size());
  input.of.resize(view.facts.size());
  for (std::size_t i = 0; i < view.facts.size(); ++i) {
    const SettleView::FactShown& fact = view.facts[i];
    input.typed[i].resize(fact.asked.size());
    // A file that came in meanwhile may have brought another version: a choice among the old ones is none.
    std::string versions = fact.group;
    for (const auto& version : fact.versions) versions += '\n' + version.whose + '\n' + version.value;
    if (input.of[i] != versions) input.chosen[i] = -1;
    input.of[i] = std::move(versions);
  }
  input.at = std::clamp(input.at, 0, std::max(0, static_cast<int>(view.facts.size()) - 1));
}

/// Where in the versions of this fact the copy's stands.
int version_from(const SettleView::FactShown& fact, const Id& side) {
  for (std::size_t i = 0; i < fact.versions.size(); ++i)
    if (fact.versions[i].copy == side) return static_cast<int>(i);
  return -1;
}

void draw_card(Pen& pen, const SettleView& view, SettleInput& input, std::size_t i) {
  const auto& fact = view.facts[i];
  const IdScope scope("fact", static_cast<std::int64_t>(i));
  std::vector<SettleVersion> versions;
  for (const auto& version : fact.versions) versions.push_back({version.whose, version.value, version.detail});
  const int pressed = settle_card(pen, {.id = "card",
                                        .fact = fact.fact,
                                        .hangs = fact.hangs,
                                        .versions = versions,
                                        .chosen = input.chosen[i],
                                        .other = fact.other});
  if (pressed >= 0) input.chosen[i] = pressed == input.chosen[i] ? -1 : pressed;
  if (input.chosen[i] != static_cast<int>(versions.size())) return;
  for (std::size_t f = 0; f < fact.asked.size(); ++f) {
    const IdScope field("field", static_cast<std::int64_t>(f));
    text_field(pen, {.id = "typed", .label = fact.asked[f].label}, input.typed[i][f]);
  }
}

}  // namespace

Result<SettleView> settle_of(const Surroundings& around, const Id& record, const SettleInput& input) {
  const Words& words = around.words;
  TRY_ASSIGN(const DifferingRecord& differs, differing(around.book, record));
  SettleView view;
  view.record = record;
  view.kind = differs.kind;
  view.units = around.units;
  view.farm = around.farm;
  view.title = record_title(around, record);
  view.second = words(none_saw_another(differs) ? "settle.second"_w : "settle.second_some"_w);
  view.same_head = words("settle.same"_w);
  view.reason_label = words("settle.reason"_w);
  view.later = words("settle.later"_w);
  view.why_not = words("settle.choose_first"_w);
  view.nothing = words("settle.nothing"_w);
  view.side_head = words("settle.side_head"_w);
  view.shows_head = words("settle.will_show"_w);
  view.before = words("settle.before_button"_w);
  view.next = words("settle.next_button"_w);
  if (std::find(std::begin(kWaitsHangOn), std::end(kWaitsHangOn), differs.kind) != std::end(kWaitsHangOn))
    view.until = words("settle.until"_w);
  for (const DifferingGroup& group : differs.groups) {
    SettleView::FactShown fact;
    fact.group = group.group;
    fact.fact = sentence_case(group_name(differs.kind, group.group, words));
    if (!group.before.empty()) fact.hangs = words("settle.before"_w, {fact_text(group.before, around)});
    // Whether a thing is struck is one of the two, not a value to type.
    if (group.group != "struck") fact.other = words("settle.type_another"_w);
    for (const DifferingVersion& version : group.versions)
      fact.versions.push_back(version_shown(group, version, around));
    fact.asked = asked_of(group, differs.kind, words);
    fact.shown = shown_of(fact, view.facts.size(), input);
    view.chosen += !fact.shown.empty();
    view.facts.push_back(std::move(fact));
  }
  for (const FieldValue& field : differs.same)
    view.same.emplace_back(field_name(differs.kind, field.key, words), value_text(field, around));
  TRY_ASSIGN(view.asking, asking_view(around, record));
  for (const auto& [copy, label] : whole_sides(differs)) {
    view.sides.push_back(copy);
    view.side_texts.push_back(words("settle.all_from"_w, {copy_told(around.book, copy, label, words)}));
  }
  view.step = words("settle.step"_w,
                    {std::to_string(std::min<std::size_t>(static_cast<std::size_t>(input.at) + 1, view.facts.size())),
                     std::to_string(view.facts.size())});
  const std::string who = person_name(around.book, around.person);
  const auto n = static_cast<long long>(std::max<std::size_t>(1, view.chosen));
  view.go = who.empty() ? words.count("settle.go_facts"_w, n)
                        : words.count("settle.go_as"_w, n, {who.substr(0, who.find(' '))});
  return view;
}

Result<SettleView> settle_view(const Surroundings& around, const SettleInput& input) {
  return settle_of(around, around.record, input);
}

std::optional<Ask> draw_settle_cards(Pen& pen, const SettleView& view, SettleInput& input, bool one) {
  make_room(input, view);
  if (view.facts.empty()) {
    paragraph(pen, view.nothing);
    return std::nullopt;
  }
  if (!view.sides.empty()) {
    std::vector<Chip> all;
    for (std::size_t s = 0; s < view.sides.size(); ++s) {
      bool on = true;
      for (std::size_t i = 0; i < view.facts.size(); ++i)
        on = on && input.chosen[i] == version_from(view.facts[i], view.sides[s]);
      all.push_back({.text = view.side_texts[s], .on = on});
    }
    paragraph(pen, view.side_head, TextStyle::Label);
    if (const int side = chips(pen, "sides", all); side >= 0)
      for (std::size_t i = 0; i < view.facts.size(); ++i)
        input.chosen[i] = version_from(view.facts[i], view.sides[static_cast<std::size_t>(side)]);
    pen.space(8);
  }
  one = one && view.facts.size() > 1;
  if (one) {
    paragraph(pen, view.step, TextStyle::Label);
    pen.space(6);
    draw_card(pen, view, input, static_cast<std::size_t>(input.at));
    const int pressed =
        buttons(pen, {{.id = "before", .text = view.before, .icon = Icon::ChevronLeft, .enabled = input.at > 0},
                      {.id = "next",
                       .text = view.next,
                       .icon_after = Icon::ChevronRight,
                       .enabled = input.at + 1 < static_cast<int>(view.facts.size())}});
    if (pressed == 0) --input.at;
    if (pressed == 1) ++input.at;
    pen.space(12);
  } else {
    for (std::size_t i = 0; i < view.facts.size(); ++i) draw_card(pen, view, input, i);
  }
  if (!view.same.empty()) {
    std::vector<Fact> facts;
    for (const auto& [name, value] : view.same) facts.push_back({name, value});
    fact_line(pen, view.same_head, facts);
    pen.space(8);
  }
  text_field(pen, {.id = "reason", .label = view.reason_label}, input.reason);
  if (view.chosen > 0) {
    pen.space(8);
    heading(pen, view.shows_head, TextStyle::LabelStrong);
    for (const auto& fact : view.facts)
      if (!fact.shown.empty()) pair_line(pen, fact.fact, fact.shown);
  }
  pen.space(8);
  if (!view.until.empty()) paragraph(pen, view.until, TextStyle::Label);
  pen.space(8);
  return draw_asking(pen, view.asking, view.record, input.asking);
}

std::optional<Ask> draw_settle_buttons(Pen& pen, const SettleView& view, SettleInput& input) {
  if (view.facts.empty()) return std::nullopt;
  make_room(input, view);
  const bool ready = view.chosen > 0 && !trim(input.reason).empty();
  const int pressed = buttons(pen,
                              {{.id = "later", .text = view.later},
                               {.id = "settle",
                                .text = view.go,
                                .icon = Icon::Tick,
                                .kind = ButtonKind::Primary,
                                .enabled = ready,
                                .why_not = view.why_not}},
                              {-1, -2});
  if (pressed == 0) return Back{};
  if (pressed == 1) return settle_all(view, input);
  return std::nullopt;
}

std::optional<Ask> draw_settle(const SettleView& view, SettleInput& input, const Furniture& furniture) {
  std::optional<Ask> ask;
  Screen screen(furniture.form("settle", view.title, view.second));
  {
    ScreenPart main = screen.main();
    problem_line(main.pen(), furniture.problem);
    ask = draw_settle_cards(main.pen(), view, input, true);
  }
  {
    ScreenPart actions = screen.actions();
    if (auto settled = draw_settle_buttons(actions.pen(), view, input)) ask = std::move(settled);
  }
  if (!ask) ask = furniture.asked(screen);
  return ask;
}

}  // namespace steep
